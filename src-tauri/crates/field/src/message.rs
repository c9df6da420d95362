//! From errors and remarks to what a screen is given, in one place.

use domain::visit::{self, Remark};

use tagcode::photo::PhotoError;

use crate::view::{Grade, Message};
use crate::{Error, KeysError};

impl Error {
    /// Returns what the screen says: what happened, and what to do next.
    #[must_use]
    pub fn message(&self) -> Message {
        let remedy = self.remedy();
        Message {
            code: self.code().to_owned(),
            grade: if self.is_retryable() { Grade::Warning } else { Grade::Refusal },
            text: self.to_string(),
            remedy,
            reason: None,
        }
    }

    /// Returns the stable code.
    #[must_use]
    pub fn code(&self) -> &str {
        match self {
            Error::Store(error) => error.code(),
            Error::Key(KeysError::Lost) => "key.lost",
            Error::Key(KeysError::Refused { .. }) => "key.refused",
            Error::NoEntropy(_) => "phone.no_entropy",
            Error::FileTooLarge { .. } => "upload.too_large",
            Error::NoUpload => "upload.gone",
            Error::BadPiece => "upload.damaged",
            Error::PieceOutOfPlace => "upload.out_of_place",
            Error::PieceMissing => "upload.not_whole",
            Error::CodeGone => "code.gone",
            Error::BadFrame => "camera.bad_frame",
            Error::TextTooLong { .. } => "answer.too_long",
            Error::NoInstrument => "instrument.unknown",
            Error::UnreadableInstrument => "instrument.unreadable",
            Error::Refused(remark) => &remark.code,
            Error::UnreadableDraft => "visit.unreadable",
            Error::NoPiece => "visit.no_piece",
            Error::TooManyRows { .. } => "visit.too_many_rows",
            Error::TooManyPieces { .. } => "visit.too_many_pieces",
            Error::NotReady { .. } => "sign.not_ready",
            Error::NoTechnician => "sign.no_technician",
            Error::PinAsked => "sign.pin_asked",
            Error::NoReason => "sign.no_reason",
            Error::NoPin => "pin.none",
            Error::PinIsSet => "pin.is_set",
            Error::NotAPin => "pin.not_a_pin",
            Error::EasyPin => "pin.easy",
            Error::PinsDiffer => "pin.differ",
            Error::WrongPin { .. } => "pin.wrong",
            Error::PinWaits { .. } => "pin.waits",
            Error::PinFailed { .. } => "pin.failed",
            Error::Body(bodies::Error::TooLong { .. }) => "record.too_long",
            Error::Body(bodies::Error::Newer { .. }) => "record.newer",
            Error::Body(_) => "record.body",
            Error::Entry(record::Error::TooLong { .. }) => "record.too_long",
            Error::Entry(record::Error::NotSigned(_)) => "sign.key_refused",
            Error::Entry(_) => "record.entry",
            Error::NoRecord => "record.unknown",
            Error::UnknownSigner => "record.unknown_signer",
            Error::NotExported { .. } => "record.not_exported",
            Error::NotAPhoto => "photo.not_a_photo",
            Error::Photo(error) => photo_code(error),
            Error::TooManyPhotos { .. } => "photo.too_many",
            Error::NotAnInvitation => "enrol.not_an_invitation",
            Error::NotConfirmed => "enrol.not_confirmed",
            Error::Exchange(error) => error.code(),
            Error::NoSheet => "labels.no_sheet",
            Error::NoPrinter { .. } => "labels.no_printer",
            Error::NoHost => "labels.no_host",
            Error::OneLabelOnly => "labels.one_only",
            Error::Label(_) => "labels.not_made",
            Error::LabelsNotExported { .. } => "labels.not_exported",
        }
    }

    /// Returns whether the same thing may go well when it is done again.
    #[must_use]
    pub fn is_retryable(&self) -> bool {
        match self {
            Error::Store(error) => error.is_retryable(),
            Error::Exchange(error) => error.is_retryable(),
            Error::Key(KeysError::Refused { .. })
            | Error::NoEntropy(_)
            | Error::NoUpload
            | Error::BadFrame
            | Error::BadPiece
            | Error::PieceOutOfPlace
            | Error::PieceMissing
            | Error::Entry(record::Error::NotSigned(_))
            | Error::WrongPin { .. }
            | Error::PinWaits { .. }
            | Error::PinFailed { .. }
            | Error::LabelsNotExported { .. }
            | Error::NotExported { .. } => true,
            _ => false,
        }
    }

    fn remedy(&self) -> String {
        match self {
            // These sentences hold their own way out.
            Error::Store(_)
            | Error::Body(_)
            | Error::Entry(_)
            | Error::Label(_)
            | Error::Exchange(_)
            | Error::Photo(_) => "",
            Error::Key(_) => "Unlock the phone and try again; then restart it.",
            Error::NoEntropy(_) => "Restart the phone, then try again.",
            Error::FileTooLarge { .. } => "Choose a smaller file, or take the photo at a lower resolution.",
            Error::NoUpload | Error::BadPiece | Error::PieceOutOfPlace | Error::PieceMissing => {
                "Choose the file again."
            }
            Error::CodeGone => "Scan it again, then link it.",
            Error::BadFrame => "Take a photo of the label, or type the tag on the plate.",
            Error::TextTooLong { .. } => "Shorten it; put the rest into the note at the end.",
            Error::NoInstrument => "Search for the tag, or load a newer register.",
            Error::UnreadableInstrument => "Load the register again.",
            Error::Refused(remark) => &remark.remedy,
            Error::UnreadableDraft => "Install the version that saved it, and finish the visit there.",
            Error::NoPiece => "Look at the list of evidence, and add it again if it is wanted.",
            Error::TooManyRows { .. } => "Put what is left into the note at the end.",
            Error::TooManyPieces { .. } => "Take away what is not needed, then add the new one.",
            Error::NotReady { first, .. } => return first.clone(),
            Error::NoTechnician => "Put in your name on the first screen, then sign.",
            Error::PinAsked => "Type it, or sign without it and say why.",
            Error::NoReason => "Say why you sign without it, then sign.",
            Error::NoPin => "Sign without one, or set one under your name on the first screen.",
            Error::PinIsSet => "Change it, or take it off: the old one is asked for.",
            Error::NotAPin => "Type digits only, at least 4 and at most 12.",
            Error::EasyPin => "Choose other digits.",
            Error::PinsDiffer => "Type the new PIN once more in both places.",
            Error::WrongPin { .. } | Error::PinWaits { .. } => {
                "Forgotten? A record can always be signed without it: say why."
            }
            Error::PinFailed { .. } => "Try again. A record can be signed without the PIN: say why.",
            Error::NoRecord => "Look through the signed visits on the first screen.",
            Error::UnknownSigner => "Check it where the key is known; the record is kept as it is.",
            Error::NotExported { .. } => "Free some space, then export again.",
            Error::NotAPhoto => "Take the photo with the phone's camera, or choose another file.",
            Error::TooManyPhotos { .. } => {
                "Keep what shows the most; the others stay on the phone's own camera."
            }
            Error::NotAnInvitation => {
                "Scan the code that the hub shows, or copy all of its text, from headmark-enrol on."
            }
            Error::NotConfirmed => "Give up here, and scan a new code of the hub.",
            Error::NoSheet => "Choose one of the sheets listed.",
            Error::NoPrinter { .. } => "Choose 300 or 600 where the printer's resolution is not known.",
            Error::NoHost => {
                "Give the utility's own host, such as id.utility.example, without scheme or path."
            }
            Error::OneLabelOnly => "Choose one instrument, or save the sheets as PDF.",
            Error::LabelsNotExported { .. } => "Free some space, then save again.",
        }
        .to_owned()
    }
}

/// Returns the stable code of what is wrong with a photo.
pub(crate) fn photo_code(error: &PhotoError) -> &'static str {
    match error {
        PhotoError::TooLarge { .. } => "photo.too_large",
        PhotoError::Damaged => "photo.damaged",
        _ => "photo.not_a_photo",
    }
}

/// Returns a remark of the domain as the screen is given it, where no reason for going on can be given.
pub(crate) fn plain(remark: &Remark) -> Message {
    Message {
        code: remark.code.clone(),
        grade: grade(remark.grade),
        text: remark.text.clone(),
        remedy: remark.remedy.clone(),
        reason: None,
    }
}

/// Returns something to be said that is no refusal.
pub(crate) fn saying(code: &str, grade: Grade, text: &str, remedy: &str) -> Message {
    Message { code: code.into(), grade, text: text.into(), remedy: remedy.into(), reason: None }
}

fn grade(grade: visit::Grade) -> Grade {
    match grade {
        visit::Grade::Note => Grade::Note,
        visit::Grade::Warning => Grade::Warning,
        visit::Grade::Refusal => Grade::Refusal,
        visit::Grade::Danger => Grade::Danger,
    }
}
