//! The passphrase that seals the organisation key.

use zeroize::Zeroizing;

use crate::Error;

/// The fewest characters. Argon2id makes each guess dear; length makes there be many.
const FEWEST: usize = 12;
/// The fewest different characters: `aaaaaaaaaaaa` is long and no passphrase.
const FEWEST_DIFFERENT: usize = 5;
/// The longest, so that a wrong file given as a passphrase is found out.
const LONGEST: usize = 1024;

/// A passphrase, wiped when it is dropped and never shown.
pub struct Passphrase(Zeroizing<String>);

// By hand, so that no message can ever hold it.
impl std::fmt::Debug for Passphrase {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str("Passphrase")
    }
}

impl Passphrase {
    /// Takes a passphrase as it was typed; a line end behind it is left out.
    #[must_use]
    pub fn typed(text: String) -> Passphrase {
        let text = Zeroizing::new(text);
        Passphrase(Zeroizing::new(text.trim_end_matches(['\r', '\n']).to_owned()))
    }

    /// Takes a new passphrase, refusing one that is soon guessed.
    ///
    /// # Errors
    ///
    /// [`Error::WeakPassphrase`], with what to do.
    pub fn new(text: String) -> Result<Passphrase, Error> {
        let passphrase = Passphrase::typed(text);
        let trimmed = passphrase.0.trim();
        let mut different: Vec<char> = trimmed.chars().collect();
        let length = different.len();
        different.sort_unstable();
        different.dedup();
        let wrong = if length == 0 {
            "The passphrase is empty. Choose one of at least 12 characters, such as four words that do not belong together."
        } else if length < FEWEST {
            "The passphrase is too short. Choose at least 12 characters, such as four words that do not belong together."
        } else if length > LONGEST {
            "The passphrase is longer than 1024 characters. Check that the right file was named."
        } else if different.len() < FEWEST_DIFFERENT {
            "The passphrase repeats a few characters. Choose one with at least five different ones, such as four words."
        } else {
            return Ok(passphrase);
        };
        Err(Error::WeakPassphrase(wrong))
    }

    /// Returns the bytes that the key is made from.
    pub(crate) fn bytes(&self) -> &[u8] {
        self.0.as_bytes()
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::empty("", false)]
    #[case::blank("            \n", false)]
    #[case::short("tarn-lane-9", false)]
    #[case::one_letter("aaaaaaaaaaaaaaaaaaaa", false)]
    #[case::two_letters("abababababababab", false)]
    #[case::four_words("sluice copper lantern moor", true)]
    #[case::with_a_line_end("sluice copper lantern\r\n", true)]
    fn what_is_soon_guessed_is_refused(#[case] text: &str, #[case] good: bool) {
        assert_eq!(Passphrase::new(text.into()).is_ok(), good);
    }

    #[test]
    fn it_is_never_shown() {
        assert_eq!(format!("{:?}", Passphrase::typed("sluice copper lantern".into())), "Passphrase");
    }
}
