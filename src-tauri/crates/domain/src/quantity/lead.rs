//! A text that is one number with something behind it: split into sign, number and the rest.

use super::EntryError;
use super::figure::{Figure, Numeral, numeral};
use super::typed::plain;

/// A number in front of whatever follows it.
pub(super) struct Lead {
    pub(super) typed: String,
    negative: bool,
    numeral: Numeral,
    /// What stands behind the number, without spaces around it.
    pub(super) rest: String,
}

impl Lead {
    /// Splits a text. `example` says what could be written where nothing is.
    pub(super) fn of(text: &str, example: &'static str) -> Result<Lead, EntryError> {
        let typed = text.trim().to_owned();
        let plain = plain(text);
        if plain.is_empty() {
            return Err(EntryError::Empty { example });
        }
        let (negative, unsigned) = match plain.strip_prefix('-') {
            Some(rest) => (true, rest),
            None => (false, plain.strip_prefix('+').unwrap_or(&plain)),
        };
        let unsigned = unsigned.trim_start();
        let end = unsigned.find(|c: char| !matches!(c, '0'..='9' | '.' | ',')).unwrap_or(unsigned.len());
        let (digits, rest) = unsigned.split_at(end);
        if digits.is_empty() {
            return Err(EntryError::NotUnderstood { text: typed, example });
        }
        Ok(Lead { typed, negative, numeral: numeral(digits)?, rest: rest.trim().to_owned() })
    }

    /// The number, where it is clear; else the texts it may stand for.
    pub(super) fn figure(&self) -> Result<Figure, Vec<String>> {
        match self.numeral {
            Numeral::Clear(figure) => Ok(figure),
            Numeral::Doubtful { decimal, thousands } => {
                Err(vec![self.with(decimal, &self.rest), self.with(thousands, &self.rest)])
            }
        }
    }

    /// The text of the same sign with another number or unit.
    pub(super) fn with(&self, figure: Figure, unit: &str) -> String {
        let sign = if self.negative { "-" } else { "" };
        format!("{sign}{} {unit}", figure.text()).trim().to_owned()
    }

    pub(super) fn signed(&self, figure: Figure) -> f64 {
        if self.negative { -figure.value() } else { figure.value() }
    }
}
