//! A scanned text as it may be shown.

use std::fmt::Write;

use icu_properties::props::{DefaultIgnorableCodePoint, GeneralCategory, GeneralCategoryGroup};
use icu_properties::{CodePointMapData, CodePointSetData};

/// The most characters shown.
const MOST: usize = 200;

/// Returns a scanned text safe to show: control and direction-changing characters are made visible, and what is too
/// long is cut with a note of how much there is. The text itself is kept elsewhere, as it was.
#[must_use]
pub fn safe_text(text: &str) -> String {
    let mut shown = String::new();
    let mut letters = text.chars();
    for letter in letters.by_ref().take(MOST) {
        if hidden(letter) {
            // Writing to a string cannot fail.
            let _ = write!(shown, "⟨{:04X}⟩", u32::from(letter));
        } else {
            shown.push(letter);
        }
    }
    let more = letters.count();
    if more > 0 {
        let _ = write!(shown, "… ({more} more)");
    }
    shown
}

/// Characters that show as nothing or change what stands beside them, by the Unicode character database: controls,
/// marks of direction, joiners, line separators, what fonts leave out, and what has no agreed shape.
fn hidden(letter: char) -> bool {
    let category = CodePointMapData::<GeneralCategory>::new().get(letter);
    let shapeless = GeneralCategoryGroup::Other
        .union(GeneralCategoryGroup::LineSeparator)
        .union(GeneralCategoryGroup::ParagraphSeparator);
    shapeless.contains(category) || CodePointSetData::new::<DefaultIgnorableCodePoint>().contains(letter)
}

#[cfg(test)]
mod tests {
    use super::safe_text;

    #[test]
    fn plain_text_stays_as_it_is() {
        assert_eq!(
            safe_text("https://id.marrowby.example/i/LT-2041"),
            "https://id.marrowby.example/i/LT-2041"
        );
        assert_eq!(safe_text("Füllstand 3 °C"), "Füllstand 3 °C");
    }

    #[test]
    fn what_hides_or_turns_is_made_visible() {
        assert_eq!(safe_text("a\u{202E}b\u{0}c\n"), "a⟨202E⟩b⟨0000⟩c⟨000A⟩");
    }

    #[test]
    fn a_long_text_is_cut_and_says_so() {
        let shown = safe_text(&"x".repeat(4096));
        assert!(shown.ends_with("… (3896 more)"), "{shown}");
    }
}
