//! Tags folded for comparison.

/// Returns the tag as it tells instruments apart: capital letters, and one mark for any run of separators.
///
/// Separators still count as such: `LT-1-11` and `LT-11-1` are two instruments.
#[must_use]
pub fn folded(tag: &str) -> String {
    let mut folded = String::with_capacity(tag.len());
    for part in tag.split(|letter: char| !letter.is_alphanumeric()).filter(|part| !part.is_empty()) {
        if !folded.is_empty() {
            folded.push('-');
        }
        folded.extend(part.chars().flat_map(char::to_uppercase));
    }
    folded
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn case_and_the_kind_of_separator_are_forgotten_and_nothing_else() {
        assert_eq!(folded(" lt 2041 "), "LT-2041");
        assert_eq!(folded("LT__2041"), "LT-2041");
        assert_ne!(folded("LT-1-11"), folded("LT-11-1"));
        assert_ne!(folded("LT-2O41"), folded("LT-2041"));
    }
}
