//! One number as written: its digits, and what its last digit stands for.

use super::EntryError;

/// The most digits a written number may have; a double keeps every one of them.
const MOST_DIGITS: usize = 15;

/// A number without sign, as written: `digits` with the point `places` from the right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Figure {
    digits: i64,
    places: usize,
}

impl Figure {
    pub(super) fn value(self) -> f64 {
        scaled(self.digits, self.places)
    }

    /// One unit of the last digit written.
    pub(super) fn step(self) -> f64 {
        scaled(1, self.places)
    }

    pub(super) fn is_whole(self) -> bool {
        self.places == 0
    }

    /// The digits in front of the point, and those behind it as a whole number; `None` where none stand there.
    pub(super) fn split(self) -> Option<(i64, i64)> {
        let unit = 10_i64.checked_pow(u32::try_from(self.places).ok()?)?;
        (self.places > 0).then_some((self.digits / unit, self.digits % unit))
    }

    /// Written plainly, with a decimal point and no thousands.
    pub(super) fn text(self) -> String {
        let digits = format!("{:0>width$}", self.digits, width = self.places + 1);
        let (whole, part) = digits.split_at(digits.len() - self.places);
        if part.is_empty() { whole.to_owned() } else { format!("{whole}.{part}") }
    }
}

fn scaled(digits: i64, places: usize) -> f64 {
    // Through text: one rounding, where a division by a power of ten could be two.
    format!("{digits}e-{places}").parse().unwrap_or(f64::NAN)
}

/// A number as written: clear, or with a comma that can mean two things.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Numeral {
    Clear(Figure),
    Doubtful { decimal: Figure, thousands: Figure },
}

/// Reads digits, points and commas.
pub(super) fn numeral(text: &str) -> Result<Numeral, EntryError> {
    let bad = || EntryError::NotANumber { text: text.to_owned() };
    let commas = text.matches(',').count();
    let points = text.matches('.').count();
    if !text.chars().all(|c| c.is_ascii_digit() || c == ',' || c == '.') || text.ends_with([',', '.']) {
        return Err(bad());
    }
    match (commas, points) {
        (0, 0 | 1) => clear(text, '.'),
        (1, 0) => comma(text),
        (_, 0) => thousands(text, ',').and_then(|plain| clear(&plain, '.')),
        (0, _) => thousands(text, '.').and_then(|plain| clear(&plain, '.')),
        // Two kinds of mark: the last one is the decimal mark, the other must part thousands.
        (_, 1) if text.rfind('.') > text.rfind(',') => mixed(text, ',', '.'),
        (1, _) if text.rfind(',') > text.rfind('.') => mixed(text, '.', ','),
        _ => Err(bad()),
    }
}

fn comma(text: &str) -> Result<Numeral, EntryError> {
    let Numeral::Clear(decimal) = clear(text, ',')? else {
        return Err(EntryError::NotANumber { text: text.to_owned() });
    };
    let (front, behind) = text.split_once(',').unwrap_or((text, ""));
    // Thousands stand in threes behind one to three digits that do not begin with a zero.
    let can_be_thousands = behind.len() == 3 && (1..=3).contains(&front.len()) && !front.starts_with('0');
    if !can_be_thousands {
        return Ok(Numeral::Clear(decimal));
    }
    Ok(Numeral::Doubtful { decimal, thousands: Figure { digits: decimal.digits, places: 0 } })
}

fn mixed(text: &str, parts: char, decimal: char) -> Result<Numeral, EntryError> {
    let (front, behind) = text.rsplit_once(decimal).unwrap_or((text, ""));
    let front = thousands(front, parts).map_err(|_| EntryError::NotANumber { text: text.to_owned() })?;
    clear(&format!("{front}.{behind}"), '.')
}

/// Takes thousands marks out of a whole number, if they stand where they belong.
fn thousands(text: &str, mark: char) -> Result<String, EntryError> {
    let mut groups = text.split(mark);
    let first = groups.next().unwrap_or_default();
    if !(1..=3).contains(&first.len()) || first.starts_with('0') || !groups.all(|group| group.len() == 3) {
        return Err(EntryError::NotANumber { text: text.to_owned() });
    }
    Ok(text.replace(mark, ""))
}

fn clear(text: &str, mark: char) -> Result<Numeral, EntryError> {
    let (whole, part) = text.split_once(mark).unwrap_or((text, ""));
    let digits = format!("{whole}{part}");
    if digits.len() > MOST_DIGITS {
        return Err(EntryError::TooManyDigits { text: text.to_owned() });
    }
    let digits = digits.parse().map_err(|_| EntryError::NotANumber { text: text.to_owned() })?;
    Ok(Numeral::Clear(Figure { digits, places: part.len() }))
}
