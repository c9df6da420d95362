//! Tags folded for comparison: strictly for telling instruments apart, loosely for finding them.

use store::TagKey;

/// Returns the key under which a tag is kept: capital letters, and one mark for any run of separators.
///
/// Separators still count as such: `LT-1-11` and `LT-11-1` are two instruments.
pub(crate) fn key(tag: &str) -> TagKey {
    TagKey(domain::visit::tag::folded(tag))
}

/// Returns the tag as a search compares it: no separators, no case, and letters that a dirty plate makes
/// look like digits (O, I, L) folded into those.
pub(crate) fn loose(text: &str) -> String {
    let letters = text.chars().filter(|letter| letter.is_alphanumeric()).flat_map(char::to_uppercase);
    letters
        .map(|letter| match letter {
            'O' => '0',
            'I' | 'L' => '1',
            other => other,
        })
        .collect()
}

/// Returns the letters and digits of a tag, without the separators.
pub(crate) fn spelt(key: &TagKey) -> Vec<char> {
    key.0.chars().filter(|letter| letter.is_alphanumeric()).collect()
}

/// Tells whether the first of two tags of as many letters has no separator where the other has none. It may have fewer:
/// they are left out in a hurry, but not typed without one on the plate.
pub(crate) fn parts_within(typed: &TagKey, tag: &TagKey) -> bool {
    let theirs: Vec<usize> = parted(tag).collect();
    parted(typed).all(|place| theirs.contains(&place))
}

/// After how many letters each separator stands.
fn parted(key: &TagKey) -> impl Iterator<Item = usize> + '_ {
    key.0
        .char_indices()
        .filter(|(_, letter)| !letter.is_alphanumeric())
        .enumerate()
        .map(|(before, (at, _))| key.0.get(..at).map_or(0, |start| start.chars().count()) - before)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_forgets_case_and_the_kind_of_separator_only() {
        assert_eq!(key(" lt 2041 "), key("LT-2041"));
        assert_eq!(key("LT__2041"), key("LT-2041"));
        assert_ne!(key("LT-1-11"), key("LT-11-1"));
        assert_ne!(key("LT-2O41"), key("LT-2041"));
    }

    #[test]
    fn a_search_folds_what_looks_alike() {
        assert_eq!(loose("lt-2o41"), loose("LT 2041"));
        assert_eq!(loose("LT-I1"), loose("1t/11"));
    }
}
