//! What a PIN may be.

use zeroize::Zeroizing;

use crate::Error;

/// The fewest digits. Common practice, no source; so are the other numbers here.
pub(super) const FEWEST: usize = 4;
/// The most.
pub(super) const MOST: usize = 12;

/// The digits of a PIN, wiped when it is dropped.
pub(super) struct Pin(Zeroizing<String>);

impl Pin {
    /// Takes a PIN as it was typed or pasted. Blanks and dashes between the digits are no part of it.
    ///
    /// # Errors
    ///
    /// [`Error::NotAPin`] for what can be none.
    pub(super) fn typed(text: &str) -> Result<Pin, Error> {
        let digits = text.chars().filter(|letter| !letter.is_whitespace() && *letter != '-');
        let digits = Zeroizing::new(digits.take(MOST + 1).collect::<String>());
        let is_one = digits.bytes().all(|digit| digit.is_ascii_digit());
        if !is_one || !(FEWEST..=MOST).contains(&digits.len()) {
            return Err(Error::NotAPin);
        }
        Ok(Pin(digits))
    }

    /// Takes a new PIN that was typed twice.
    ///
    /// # Errors
    ///
    /// [`Error::NotAPin`], [`Error::EasyPin`] for one that anybody would try first, [`Error::PinsDiffer`].
    pub(super) fn new(text: &str, again: &str) -> Result<Pin, Error> {
        let pin = Pin::typed(text)?;
        if is_easy(pin.digits()) {
            return Err(Error::EasyPin);
        }
        if Pin::typed(again).ok().is_none_or(|again| again.digits() != pin.digits()) {
            return Err(Error::PinsDiffer);
        }
        Ok(pin)
    }

    /// Returns the digits.
    pub(super) fn digits(&self) -> &[u8] {
        self.0.as_bytes()
    }
}

/// All alike, or one after the other, up or down, with 0 on either side of 9 and 1.
fn is_easy(digits: &[u8]) -> bool {
    let steps = |step: u8| {
        let follows = |pair: &[u8]| matches!(pair, [one, next] if (next + 10 - one) % 10 == step);
        digits.windows(2).all(follows)
    };
    [0, 1, 9].into_iter().any(steps)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("4815", "4815")]
    #[case::pasted(" 48 15-16\n", "481516")]
    #[case::longest("481516234207", "481516234207")]
    fn four_to_twelve_digits_are_a_pin(#[case] text: &str, #[case] digits: &str) {
        assert_eq!(Pin::new(text, digits).unwrap().digits(), digits.as_bytes());
    }

    #[rstest]
    #[case::nothing("")]
    #[case::too_few("481")]
    #[case::too_many("4815162342079")]
    #[case::far_too_many(&"48".repeat(100_000))]
    #[case::a_letter("48l5")]
    #[case::other_digits("\u{664}\u{668}\u{661}\u{665}")]
    #[case::a_sign("+4815")]
    fn anything_else_is_none(#[case] text: &str) {
        assert!(matches!(Pin::typed(text), Err(Error::NotAPin)));
        assert!(matches!(Pin::new(text, text), Err(Error::NotAPin)));
    }

    #[rstest]
    #[case("0000")]
    #[case("777777777777")]
    #[case("1234")]
    #[case("456789")]
    #[case::over_nine("7890")]
    #[case::round("890123")]
    #[case("4321")]
    #[case::down_over_nought("2109")]
    fn digits_all_alike_or_in_a_row_are_refused_as_new_ones(#[case] text: &str) {
        assert!(matches!(Pin::new(text, text), Err(Error::EasyPin)));
        // One that was set by other rules still opens.
        assert!(Pin::typed(text).is_ok());
    }

    #[rstest]
    #[case("1235")]
    #[case("1223")]
    #[case("1357")]
    #[case("0001")]
    fn others_are_not_called_easy(#[case] text: &str) {
        assert!(Pin::new(text, text).is_ok());
    }

    #[rstest]
    #[case("4816")]
    #[case("48151")]
    #[case("")]
    #[case("four")]
    fn both_must_be_the_same(#[case] again: &str) {
        assert!(matches!(Pin::new("4815", again), Err(Error::PinsDiffer)));
    }
}
