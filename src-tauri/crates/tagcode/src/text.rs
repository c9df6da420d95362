//! From the modules of a code to its text: one way for every detector.
//!
//! Only the detectors differ; format, error correction and text are always done by the same decoder. Some detectors come
//! with a text decoder of their own that gives raw bytes, or leaves out what it does not know: a part of a text
//! is a wrong text.

use rxing::common::BitMatrix;
use rxing::qrcode::cpp_port::decoder::Decode;

/// A code has 21 to 177 modules a side, in steps of four.
pub(crate) const LEAST_SIDE: usize = 21;
pub(crate) const MOST_SIDE: usize = 177;

/// Returns the text of a code whose modules are told by column and row, true for dark; `None` where its error
/// correction or its text does not hold.
pub(crate) fn text_of(side: usize, dark: impl Fn(usize, usize) -> bool) -> Option<String> {
    if !(LEAST_SIDE..=MOST_SIDE).contains(&side) || side % 4 != 1 {
        return None;
    }
    let mut bits = BitMatrix::with_single_dimension(u32::try_from(side).ok()?).ok()?;
    for y in 0..side {
        for x in (0..side).filter(|x| dark(*x, y)) {
            bits.set(u32::try_from(x).ok()?, u32::try_from(y).ok()?);
        }
    }
    let decoded = Decode(&bits).ok()?;
    let text = decoded.isValid().then(|| decoded.text())?;
    sound(&text).then_some(text)
}

/// Tells whether a text is one: not empty, and without the sign that stands for bytes that are no letters.
fn sound(text: &str) -> bool {
    !text.is_empty() && !text.contains('\u{FFFD}')
}
