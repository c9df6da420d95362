//! What a phone and a hub must agree on before they know each other: the hub's code, the six digits, and what proves a key.

use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use record::LogId;
use sha2::{Digest, Sha256};

use crate::Error;

/// Stands before what is hashed and what is signed at an enrolment. No entry, page or session begins like this.
const ENROL: &[u8] = b"headmark/enrol/1";

const HEAD: &str = "headmark-enrol:1?hub=";

/// The longest address of a hub that an invitation holds, in bytes: the whole of it has to be read as one code, off the
/// frames of a phone's camera.
pub const LONGEST_ADDRESS: usize = 300;

/// An invitation, as the QR code on the hub's screen holds it:
/// `headmark-enrol:1?hub=ADDRESS&organisation=FINGERPRINT&code=CODE`, fingerprint and code as base64url without padding.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Invitation {
    /// Where the hub is: `https://hub.marrowby.example:8443`.
    pub address: String,
    /// The log of the organisation's key: the SHA-256 of its COSE_Key.
    pub organisation: LogId,
    /// The one-time code.
    pub code: [u8; 16],
}

impl Invitation {
    /// Writes it.
    #[must_use]
    pub fn text(&self) -> String {
        let (organisation, code) =
            (URL_SAFE_NO_PAD.encode(self.organisation.0), URL_SAFE_NO_PAD.encode(self.code));
        format!("{HEAD}{}&organisation={organisation}&code={code}", self.address)
    }

    /// Reads one. Blanks and line ends within are passed over: it may have been typed off a screen, or wrapped by a
    /// message.
    ///
    /// # Errors
    ///
    /// [`Error::NotAnInvitation`] for any other text.
    pub fn read(text: &str) -> Result<Invitation, Error> {
        let text: String = text.chars().filter(|letter| !letter.is_whitespace()).collect();
        let parts = text.strip_prefix(HEAD).and_then(|rest| {
            let (address, rest) = rest.split_once("&organisation=")?;
            let (organisation, code) = rest.split_once("&code=")?;
            Some((address, decoded(organisation)?, decoded(code)?))
        });
        let (address, organisation, code) = parts.ok_or(Error::NotAnInvitation)?;
        if address.is_empty() || address.len() > LONGEST_ADDRESS {
            return Err(Error::NotAnInvitation);
        }
        Ok(Invitation { address: address.to_owned(), organisation: LogId(organisation), code })
    }
}

fn decoded<const N: usize>(text: &str) -> Option<[u8; N]> {
    URL_SAFE_NO_PAD.decode(text).ok()?.try_into().ok()
}

/// Returns the six digits that both sides show, each having worked them out by itself: SHA-256 over `headmark/enrol/1`,
/// the hub's log, the phone's log and the code, its first eight bytes as a number, its last six decimal digits.
///
/// Both logs are hashes of keys, so who would stand between has to find a key that gives the same digits while the
/// code lasts, for a code that it did not choose.
#[must_use]
pub fn six_digits(hub: LogId, phone: LogId, code: &[u8; 16]) -> String {
    let hash = Sha256::new()
        .chain_update(ENROL)
        .chain_update(hub.0)
        .chain_update(phone.0)
        .chain_update(code)
        .finalize();
    let number = hash.iter().take(8).fold(0u64, |sum, byte| sum << 8 | u64::from(*byte));
    format!("{:06}", number % 1_000_000)
}

/// Returns what a phone signs to prove its key: `headmark/enrol/1`, the organisation's log, the code, and the phone's own
/// word for itself.
#[must_use]
pub fn to_prove(organisation: LogId, code: &[u8; 16], label: &str) -> Vec<u8> {
    [ENROL, &organisation.0, code, label.as_bytes()].concat()
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    /// 32 bytes of 7 and 16 of 9, written in base64url with another program (Python's base64).
    const GOOD: &str = "headmark-enrol:1?hub=https://hub.marrowby.example:8443&organisation=\
                        BwcHBwcHBwcHBwcHBwcHBwcHBwcHBwcHBwcHBwcHBwc&code=CQkJCQkJCQkJCQkJCQkJCQ";

    #[rstest]
    #[case::as_scanned(GOOD.to_owned())]
    #[case::wrapped(GOOD.replace("&code", "\n &code"))]
    fn an_invitation_is_read(#[case] text: String) {
        let invitation = Invitation::read(&text).unwrap();
        assert_eq!(invitation.address, "https://hub.marrowby.example:8443");
        assert_eq!((invitation.organisation, invitation.code), (LogId([7; 32]), [9; 16]));
    }

    #[rstest]
    #[case::nothing("")]
    #[case::a_label("https://id.marrowby.example/LT-2041")]
    #[case::no_address(&GOOD.replace("https://hub.marrowby.example:8443", ""))]
    #[case::cut(&GOOD[..GOOD.len() - 1])]
    #[case::of_a_later_form(&GOOD.replace("enrol:1", "enrol:2"))]
    #[case::a_long_address(&GOOD.replace("hub.", &"hub.".repeat(100)))]
    #[case::another_word(&GOOD.replace("code=", "kode="))]
    fn anything_else_is_none(#[case] text: &str) {
        assert!(matches!(Invitation::read(text), Err(Error::NotAnInvitation)));
    }

    #[rstest]
    #[case::the_longest(LONGEST_ADDRESS, true)]
    #[case::one_more(LONGEST_ADDRESS + 1, false)]
    fn an_address_may_be_so_long(#[case] length: usize, #[case] is_read: bool) {
        let address = format!("https://{}", "x".repeat(length - "https://".len()));
        let invitation = Invitation { address, organisation: LogId([7; 32]), code: [9; 16] };
        assert_eq!(Invitation::read(&invitation.text()).ok(), is_read.then_some(invitation));
    }

    #[test]
    fn what_is_written_is_read() {
        let invitation = Invitation {
            address: "https://hub.marrowby.example:8443".into(),
            organisation: LogId([7; 32]),
            code: [9; 16],
        };
        let text = invitation.text();
        assert_eq!(text, GOOD);
        assert_eq!(Invitation::read(&text).unwrap(), invitation);
        assert!(text.len() < 150, "it is to be scanned off a terminal");
    }

    /// SHA-256("headmark/enrol/1" || 32 times 01 || 32 times 02 || 16 times 03), worked out with another program
    /// (Python's hashlib): its first eight bytes, modulo a million.
    #[test]
    fn the_digits_are_those_that_another_program_finds() {
        let (hub, phone) = (LogId([1; 32]), LogId([2; 32]));
        assert_eq!(six_digits(hub, phone, &[3; 16]), "525348");
        assert_ne!(six_digits(phone, hub, &[3; 16]), "525348");
        assert_ne!(six_digits(hub, phone, &[4; 16]), "525348");
    }
}
