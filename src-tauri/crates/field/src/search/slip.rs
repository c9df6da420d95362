//! The one slip by which a person writes one tag for another, and how likely it is.

/// One slip between what was typed and a tag; the likelier comes first.
///
/// When each *kind* of slip happens about as often, a slip that could have been made in few ways points at its
/// tag more strongly than one that could have been made in many: two letters can only be swapped where they
/// stand, but a letter can be mistaken for any other. So swapped and lost letters come before wrong ones, and a
/// wrong one that looks like the right one, or lies beside it on the keys, before any other. That all kinds
/// happen about as often is common practice, no source.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Slip {
    /// Two letters beside each other were swapped.
    Swapped,
    /// One of two equal letters was left out, or one was typed twice.
    Doubled,
    /// A letter was left out.
    Missing,
    /// A wrong letter that looks like the right one on a worn plate.
    Alike,
    /// A wrong letter that lies beside the right one on the keys.
    Beside,
    /// Any other wrong letter.
    Wrong,
    /// A letter too many.
    Extra,
}

impl Slip {
    /// Returns the slip that makes `typed` of `tag`; none when one slip is not enough, or none is needed.
    pub(super) fn between(typed: &[char], tag: &[char]) -> Option<Slip> {
        if typed.len().abs_diff(tag.len()) > 1 {
            return None;
        }
        let same = typed.iter().zip(tag).take_while(|(a, b)| a == b).count();
        let before = same.checked_sub(1).and_then(|at| tag.get(at));
        match (typed.get(same..)?, tag.get(same..)?) {
            ([a, b, rest @ ..], [c, d, tail @ ..]) if a == d && b == c && rest == tail => Some(Slip::Swapped),
            ([a, rest @ ..], [b, tail @ ..]) if rest == tail => Some(Slip::wrong(*a, *b)),
            ([a, rest @ ..], tail) if rest == tail => {
                Some(if before == Some(a) { Slip::Doubled } else { Slip::Extra })
            }
            (rest, [b, tail @ ..]) if rest == tail => {
                Some(if before == Some(b) { Slip::Doubled } else { Slip::Missing })
            }
            _ => None,
        }
    }

    /// Returns the slip that makes `typed` of the beginning of `tag`.
    pub(super) fn at_the_start(typed: &[char], tag: &[char]) -> Option<Slip> {
        let lengths = typed.len().saturating_sub(1)..=typed.len() + 1;
        lengths.into_iter().filter_map(|length| Slip::between(typed, tag.get(..length)?)).min()
    }

    fn wrong(typed: char, right: char) -> Slip {
        let both = |group: &str| group.contains(typed) && group.contains(right);
        if ALIKE.iter().any(|group| both(group)) {
            Slip::Alike
        } else if beside(typed, right) {
            Slip::Beside
        } else {
            Slip::Wrong
        }
    }
}

/// Letters and digits taken for each other on a worn plate or in handwriting, after the folding of O, I and L into
/// digits. Common practice, no source.
const ALIKE: [&str; 13] = ["0DQ", "0C6", "17T", "2Z", "38B", "49", "5S", "6G", "8B", "EF", "MN", "PR", "UV"];

/// The rows of the keys: of a telephone's or calculator's digits, and of letters. A letter that the folding makes a
/// digit has no place.
const KEYS: [&[&str]; 3] =
    [&["123", "456", "789", " 0 "], &["1234567890"], &["QWERTYU  P", "ASDFGHJK  ", "ZXCVBNM   "]];

fn beside(one: char, other: char) -> bool {
    KEYS.iter().any(|keys| match (place(keys, one), place(keys, other)) {
        (Some((row, column)), Some((other_row, other_column))) => {
            row.abs_diff(other_row) + column.abs_diff(other_column) == 1
        }
        _ => false,
    })
}

fn place(keys: &[&str], letter: char) -> Option<(usize, usize)> {
    keys.iter().enumerate().find_map(|(row, line)| {
        let column = line.chars().position(|key| key == letter && key != ' ')?;
        Some((row, column))
    })
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    fn between(typed: &str, tag: &str) -> Option<Slip> {
        Slip::between(&typed.chars().collect::<Vec<_>>(), &tag.chars().collect::<Vec<_>>())
    }

    #[rstest]
    #[case::swapped("1T2401", "1T2041", Some(Slip::Swapped))]
    #[case::one_of_two_lost("1T201", "1T2001", Some(Slip::Doubled))]
    #[case::typed_twice("1T22041", "1T2041", Some(Slip::Doubled))]
    #[case::lost("1T204", "1T2041", Some(Slip::Missing))]
    #[case::lost_at_the_start("T2041", "1T2041", Some(Slip::Missing))]
    #[case::looks_like_it("1T2Z41", "1T2241", Some(Slip::Alike))]
    #[case::below_it_on_the_keys("1T5041", "1T2041", Some(Slip::Beside))]
    #[case::beside_it_among_letters("1R2041", "1E2041", Some(Slip::Beside))]
    #[case::wrong("1T2741", "1T2041", Some(Slip::Wrong))]
    #[case::too_many("1T20641", "1T2041", Some(Slip::Extra))]
    #[case::the_same("1T2041", "1T2041", None)]
    #[case::two_wrong("1T2932", "1T2041", None)]
    #[case::nothing("", "", None)]
    fn the_slip_has_its_name(#[case] typed: &str, #[case] tag: &str, #[case] slip: Option<Slip>) {
        assert_eq!(between(typed, tag), slip);
    }

    proptest::proptest! {
        /// The comparison agrees with the library's distance at the bound used here.
        #[test]
        fn a_slip_is_a_distance_of_one(one in "[A-C0]{0,5}", other in "[A-C0]{0,5}") {
            proptest::prop_assert_eq!(between(&one, &other).is_some(), strsim::osa_distance(&one, &other) == 1);
        }
    }
}
