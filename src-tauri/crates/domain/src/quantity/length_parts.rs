//! A written length taken apart into numbers and their units.

use super::figure::{Figure, Numeral, numeral};
use super::typed::plain;
use super::{EntryError, LengthUnit};

/// A number, or a whole and a fraction.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Amount {
    Number(Numeral),
    Mixed { whole: Option<Figure>, above: u16, below: u16 },
}

impl Amount {
    /// The value and one unit of the last digit or of the fraction.
    pub(super) fn number(&self) -> Result<(f64, f64), EntryError> {
        match *self {
            Amount::Number(Numeral::Clear(figure)) => Ok((figure.value(), figure.step())),
            Amount::Number(Numeral::Doubtful { decimal, .. }) => {
                Err(EntryError::NotANumber { text: decimal.text() })
            }
            Amount::Mixed { whole, above, below } => {
                let part = f64::from(above) / f64::from(below);
                Ok((whole.map_or(0.0, Figure::value) + part, 1.0 / f64::from(below)))
            }
        }
    }

    pub(super) fn is_whole(&self) -> bool {
        matches!(self, Amount::Number(Numeral::Clear(figure)) if figure.is_whole())
    }

    pub(super) fn text(&self) -> String {
        match *self {
            Amount::Number(Numeral::Clear(figure) | Numeral::Doubtful { decimal: figure, .. }) => {
                figure.text()
            }
            Amount::Mixed { whole: Some(whole), above, below } => format!("{} {above}/{below}", whole.text()),
            Amount::Mixed { whole: None, above, below } => format!("{above}/{below}"),
        }
    }
}

/// A number with its unit, or without.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Part {
    pub(super) amount: Amount,
    pub(super) unit: Option<LengthUnit>,
}

impl Part {
    pub(super) fn text(&self) -> String {
        let unit = self.unit.map_or("", LengthUnit::symbol);
        format!("{} {unit}", self.amount.text()).trim().to_owned()
    }
}

/// A written length.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Written {
    pub(super) typed: String,
    pub(super) negative: bool,
    /// A minus stands in front of the second part, with a space before it.
    pub(super) negative_second: bool,
    /// A dash stands right behind the feet mark.
    pub(super) dash: bool,
    pub(super) parts: Vec<Part>,
    example: &'static str,
}

impl Written {
    pub(super) fn of(text: &str, example: &'static str) -> Result<Written, EntryError> {
        let plain = plain(text).to_lowercase();
        if plain.is_empty() {
            return Err(EntryError::Empty { example });
        }
        let mut written = Written {
            typed: text.trim().to_owned(),
            negative: plain.starts_with('-'),
            negative_second: false,
            dash: false,
            parts: Vec::new(),
            example,
        };
        let unsigned = plain.strip_prefix(['-', '+']).unwrap_or(&plain);
        let tokens = tokens(unsigned).ok_or_else(|| written.not_understood())?;
        written.take(&tokens)?;
        if written.parts.is_empty() { Err(written.not_understood()) } else { Ok(written) }
    }

    pub(super) fn not_understood(&self) -> EntryError {
        EntryError::NotUnderstood { text: self.typed.clone(), example: self.example }
    }

    pub(super) fn sign(&self) -> &'static str {
        if self.negative { "-" } else { "" }
    }

    pub(super) fn without_dash(&self) -> String {
        self.with(&self.parts)
    }

    /// The text of the same sign with other parts.
    pub(super) fn with(&self, parts: &[Part]) -> String {
        let texts: Vec<_> = parts.iter().map(Part::text).collect();
        format!("{}{}", self.sign(), texts.join(" "))
    }

    fn take(&mut self, tokens: &[Token]) -> Result<(), EntryError> {
        let mut rest = tokens;
        while !rest.is_empty() {
            if let [Token::Minus { tight }, more @ ..] = rest {
                self.minus(*tight)?;
                rest = more;
                continue;
            }
            let (amount, more) = self.amount(rest)?;
            let (unit, more) = unit(more)?;
            self.parts.push(Part { amount, unit });
            rest = more;
        }
        Ok(())
    }

    fn minus(&mut self, tight: bool) -> Result<(), EntryError> {
        let behind_one_unit = matches!(self.parts.as_slice(), [Part { unit: Some(_), .. }]);
        if !behind_one_unit || self.dash || self.negative_second {
            return Err(self.not_understood());
        }
        if tight {
            self.dash = true
        } else {
            self.negative_second = true
        }
        Ok(())
    }

    fn amount<'a>(&self, tokens: &'a [Token]) -> Result<(Amount, &'a [Token]), EntryError> {
        match tokens {
            [Token::Number(above), Token::Slash, Token::Number(below), rest @ ..] => {
                Ok((fraction(None, above, below)?, rest))
            }
            [Token::Number(whole), Token::Number(above), Token::Slash, Token::Number(below), rest @ ..] => {
                let Numeral::Clear(whole) = numeral(whole)? else { return Err(self.not_understood()) };
                let whole = Some(whole).filter(|figure| figure.is_whole());
                let whole = whole.ok_or_else(|| self.not_understood())?;
                Ok((fraction(Some(whole), above, below)?, rest))
            }
            [Token::Number(number), rest @ ..] => Ok((Amount::Number(numeral(number)?), rest)),
            _ => Err(self.not_understood()),
        }
    }
}

fn fraction(whole: Option<Figure>, above: &str, below: &str) -> Result<Amount, EntryError> {
    let bad = || EntryError::BadFraction { text: format!("{above}/{below}") };
    let above_number: u16 = above.parse().map_err(|_| bad())?;
    let below_number: u16 = below.parse().map_err(|_| bad())?;
    if above_number >= below_number || below_number > 128 {
        return Err(bad());
    }
    Ok(Amount::Mixed { whole, above: above_number, below: below_number })
}

fn unit(tokens: &[Token]) -> Result<(Option<LengthUnit>, &[Token]), EntryError> {
    let [Token::Word(word), rest @ ..] = tokens else { return Ok((None, tokens)) };
    let unknown = || EntryError::UnknownUnit { unit: word.clone(), known: "ft, in, m, cm, mm" };
    Ok((Some(LengthUnit::from_word(word).ok_or_else(unknown)?), rest))
}

#[derive(Debug, Clone, PartialEq, Eq)]
enum Token {
    Number(String),
    Word(String),
    Slash,
    Minus { tight: bool },
}

/// Cuts a plain text into numbers, words, marks and dashes; `None` where something else stands in it.
fn tokens(text: &str) -> Option<Vec<Token>> {
    let mut found = Vec::new();
    let mut rest = text.trim_start();
    let mut spaced = false;
    while let Some(first) = rest.chars().next() {
        let length = match first {
            '0'..='9' | '.' | ',' => run(rest, |c| matches!(c, '0'..='9' | '.' | ',')),
            '\'' | '"' | '/' | '-' => 1,
            _ if first.is_alphabetic() => run(rest, char::is_alphabetic),
            _ => return None,
        };
        let (piece, more) = rest.split_at_checked(length)?;
        let trimmed = more.trim_start();
        found.extend(match first {
            '/' => Some(Token::Slash),
            '-' => Some(Token::Minus { tight: !spaced }),
            '0'..='9' | '.' | ',' => number(piece, &found),
            _ if piece == "and" => None,
            _ => Some(Token::Word(piece.to_owned())),
        });
        spaced = trimmed.len() < more.len();
        rest = trimmed;
    }
    Some(found)
}

/// A comma or point behind a unit is punctuation (`22 ft., 7 in.`), a number otherwise.
fn number(piece: &str, before: &[Token]) -> Option<Token> {
    let behind_word = matches!(before.last(), Some(Token::Word(_)));
    if behind_word && piece.chars().all(|c| matches!(c, '.' | ',')) && piece.len() <= 2 {
        return None;
    }
    Some(Token::Number(piece.to_owned()))
}

fn run(text: &str, belongs: impl Fn(char) -> bool) -> usize {
    text.find(|c: char| !belongs(c)).unwrap_or(text.len())
}
