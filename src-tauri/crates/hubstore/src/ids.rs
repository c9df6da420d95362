//! Names and numbers of the hub: each a type of its own.

/// The order in which entries came to this hub, from 1. Never a clock; 0 stands before the first.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Arrival(pub u64);

/// The number of a change to the register, to people, or to a setting that counts its changes, from 1; 0 stands before the
/// first.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Version(pub u64);

/// A moment in milliseconds since 1970, as the caller's clock says. The store has no clock of its own.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Moment(pub i64);

/// A tag as it is compared, on phones and here: `LT-1-11` and `LT-11-1` are two instruments.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TagKey(String);

impl TagKey {
    /// Folds a tag.
    #[must_use]
    pub fn of(tag: &str) -> TagKey {
        TagKey(domain::visit::tag::folded(tag))
    }

    /// Returns the folded text.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.0
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::dash("LT-201", "LT-201")]
    #[case::spaces(" lt 201 ", "LT-201")]
    #[case::separators_tell_apart("LT-1-11", "LT-1-11")]
    fn a_tag_is_folded(#[case] tag: &str, #[case] key: &str) {
        assert_eq!(TagKey::of(tag).text(), key);
    }
}
