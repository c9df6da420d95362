//! What can go wrong on the phone, in words a person can act on.
//!
//! Inside, each variant says what happened. Outside there is only [`crate::view::Message`], made in one place
//! ([`Error::message`]): a stable code, a sentence, and what to do next. No sentence holds a name, a reading
//! or what a person typed, so that a message may be logged.

use domain::visit::Remark;

use crate::pin::{waits_said, wrong_said};
use crate::{KeysError, NoEntropy};

/// Why something a person wanted was not done. Nothing was changed, unless the sentence says so.
#[derive(Debug, thiserror::Error)]
pub enum Error {
    /// The store refused.
    #[error(transparent)]
    Store(#[from] store::Error),
    /// The key store refused.
    #[error("The phone's key store did not give the key that signs records.")]
    Key(#[from] KeysError),
    /// No randomness.
    #[error("The phone gave no random numbers, without which no key and no visit can be begun.")]
    NoEntropy(#[from] NoEntropy),
    /// An upload is too large.
    #[error("The file is larger than {} MB and was not taken in.", most / (1024 * 1024))]
    FileTooLarge {
        /// The most that is taken.
        most: u32,
    },
    /// There is no such upload.
    #[error("The file is no longer here: another one was begun, or it was used already.")]
    NoUpload,
    /// A piece cannot be read.
    #[error("A piece of the file was damaged on its way and was not taken in.")]
    BadPiece,
    /// A piece does not follow the one before.
    #[error("A piece of the file came out of its place and was not taken in.")]
    PieceOutOfPlace,
    /// The upload is not whole.
    #[error("The file did not come whole.")]
    PieceMissing,
    /// A frame of the camera cannot be read.
    #[error("A picture of the camera did not come whole and was left out.")]
    BadFrame,
    /// The code is not the one scanned last.
    #[error("The code is no longer here: another one was scanned, or the app was started anew.")]
    CodeGone,
    /// A text is too long to keep.
    #[error("The text is longer than {most} characters. The last one saved still stands.")]
    TextTooLong {
        /// The most characters that are kept.
        most: u32,
    },
    /// No such instrument.
    #[error("The register on this phone holds no instrument with this tag.")]
    NoInstrument,
    /// A register row can no longer be read.
    #[error("The register row of this instrument cannot be read by this version.")]
    UnreadableInstrument,
    /// No visit may be made here.
    #[error("{}", .0.text)]
    Refused(Box<Remark>),
    /// A draft can no longer be read.
    #[error("This visit was saved by another version and cannot be opened by this one. It is kept.")]
    UnreadableDraft,
    /// An answer is for something that is not in the visit.
    #[error("This piece of evidence is no longer in the visit.")]
    NoPiece,
    /// An answer is for a row beyond all lists.
    #[error("A list in a visit holds up to {most} rows.")]
    TooManyRows {
        /// The most rows.
        most: u32,
    },
    /// There are too many pieces of evidence.
    #[error("A visit holds up to {most} pieces of evidence.")]
    TooManyPieces {
        /// The most pieces.
        most: u32,
    },
    /// Something must be answered before signing.
    #[error("The visit cannot be signed yet: {} still to be answered.", count(*.missing))]
    NotReady {
        /// How many things are missing.
        missing: usize,
        /// The first of them, as its screen says it.
        first: String,
    },
    /// Nobody said who works with this phone.
    #[error("The visit cannot be signed yet: nobody has said who works with this phone.")]
    NoTechnician,
    /// The technician's PIN is asked for.
    #[error("The record is not signed yet: your PIN is asked for.")]
    PinAsked,
    /// No PIN was set.
    #[error("No PIN is set for you on this phone.")]
    NoPin,
    /// A PIN was set before.
    #[error("A PIN is set already.")]
    PinIsSet,
    /// This can be no PIN.
    #[error("A PIN has 4 to 12 digits and nothing else.")]
    NotAPin,
    /// Anybody would try this PIN first.
    #[error("This PIN is too easy to guess: its digits are all alike, or one after the other.")]
    EasyPin,
    /// The new PIN was not typed twice alike.
    #[error("The new PIN was not typed the same twice. Nothing was changed.")]
    PinsDiffer,
    /// A PIN is not the one that was set.
    #[error("{}", wrong_said(*.left, *.wait))]
    WrongPin {
        /// How many more may be tried before a wait.
        left: u32,
        /// Seconds of that wait.
        wait: u32,
    },
    /// Too many wrong PINs were typed.
    #[error("{}", waits_said(*.seconds))]
    PinWaits {
        /// Seconds until the next one may be tried.
        seconds: u32,
    },
    /// A PIN could not be hashed, or its hash not be read.
    #[error("The PIN could not be worked with ({what}).")]
    PinFailed {
        /// What was said.
        what: String,
    },
    /// Signed without the PIN, and without a reason.
    #[error("The record is not signed yet: without your PIN a reason is wanted.")]
    NoReason,
    /// A record's body could not be made or read.
    #[error(transparent)]
    Body(#[from] bodies::Error),
    /// An entry could not be made or read.
    #[error(transparent)]
    Entry(#[from] record::Error),
    /// No such record.
    #[error("There is no such record on this phone.")]
    NoRecord,
    /// The key that signed a record is not known here.
    #[error("The key that signed this record is not known on this phone, so it cannot be checked here.")]
    UnknownSigner,
    /// The export folder refused.
    #[error("The record was not exported: its file could not be written ({what}).")]
    NotExported {
        /// What the system said.
        what: String,
    },
    /// A file is no photo.
    #[error("The file is not a photo that can be kept with a visit: a JPEG or PNG is.")]
    NotAPhoto,
    /// A photo cannot be taken.
    #[error(transparent)]
    Photo(#[from] tagcode::photo::PhotoError),
    /// There are too many photos.
    #[error("A visit holds up to {most} photos.")]
    TooManyPhotos {
        /// The most photos.
        most: u32,
    },
    /// Not the code of a hub.
    #[error("This is not the code of a hub.")]
    NotAnInvitation,
    /// The hub's word does not hold.
    #[error("What came from the hub does not show that this phone was confirmed. Nothing was changed.")]
    NotConfirmed,
    /// An exchange could not go on.
    #[error(transparent)]
    Exchange(#[from] exchange::Error),
    /// No such kind of sheet.
    #[error("This kind of label sheet is not known here.")]
    NoSheet,
    /// No printer is like that.
    #[error("A printer has {least} to {most} dots an inch.")]
    NoPrinter {
        /// The fewest.
        least: u32,
        /// The most.
        most: u32,
    },
    /// Not a host.
    #[error("What is given as the utility's host is not the name of one.")]
    NoHost,
    /// A drawing or a picture holds one label.
    #[error("A drawing or a picture holds one label, and more were chosen.")]
    OneLabelOnly,
    /// Labels cannot be made. The sentence names the tag it is about, which is on no person and no reading.
    #[error(transparent)]
    Label(#[from] tagcode::sheet::LabelError),
    /// The export folder refused.
    #[error("The labels were not saved: their file could not be written ({what}).")]
    LabelsNotExported {
        /// What the system said.
        what: String,
    },
}

impl From<std::io::Error> for Error {
    fn from(error: std::io::Error) -> Error {
        Error::Store(error.into())
    }
}

fn count(missing: usize) -> String {
    if missing == 1 { "one thing is".to_owned() } else { format!("{missing} things are") }
}
