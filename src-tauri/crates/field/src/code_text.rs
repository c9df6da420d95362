//! The text of a code, which anyone may have printed: kept as it is, shown made safe.

/// Letters of a code that are shown; the rest is left out with a mark.
const MOST_SHOWN: usize = 120;

/// The longest code text that is kept: more than the largest printed code can hold.
pub(crate) const MOST_KEPT: usize = 8 * 1024;

/// Returns the text made safe to show: on one line, without letters that hide, reorder or control, and cut.
pub(crate) fn safe(code: &str) -> String {
    let mut shown: String = code.chars().map(visible).take(MOST_SHOWN).collect();
    if code.chars().nth(MOST_SHOWN).is_some() {
        shown.push('\u{2026}');
    }
    shown
}

fn visible(letter: char) -> char {
    match letter {
        // Marks that turn the direction of writing or take no room: two codes could look alike.
        '\u{00ad}'
        | '\u{061c}'
        | '\u{180e}'
        | '\u{200b}'..='\u{200f}'
        | '\u{2028}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}'
        | '\u{feff}'
        | '\u{e0000}'..='\u{e007f}' => '\u{fffd}',
        other if other.is_control() => '\u{fffd}',
        other => other,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_hides_or_turns_is_made_visible() {
        assert_eq!(safe("LT\u{202e}1402\n"), "LT\u{fffd}1402\u{fffd}");
        assert_eq!(safe("TL WASH 4012"), "TL WASH 4012");
    }

    #[test]
    fn a_long_text_is_cut_with_a_mark() {
        assert_eq!(safe(&"x".repeat(500)).chars().count(), MOST_SHOWN + 1);
        assert_eq!(safe(&"x".repeat(MOST_SHOWN)).chars().count(), MOST_SHOWN);
    }
}
