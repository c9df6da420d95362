//! Finding an instrument from what a person remembers or can read of its tag.
//!
//! A search offers and never chooses. The tag that is exactly what was typed comes first and its near
//! neighbours stand beside it, because a digit read wrongly off a plate is a wrong tower. After them come tags
//! that begin with or hold what was typed, then instruments whose service, site or serial number hold its
//! words.

use store::Listed;

use crate::tag::loose;
use crate::view::Hit;

/// How many are offered.
const MOST: usize = 20;
/// Below this length a tag with one letter wrong says nothing: everything is near.
const LEAST_FORGIVING: usize = 3;

/// The register folded for searching, once for each load of it.
pub(crate) struct Index(Vec<Known>);

struct Known {
    listed: Listed,
    tag: Vec<char>,
    words: Vec<String>,
}

/// How well an instrument fits, best first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    Exact,
    Near,
    Begins,
    Holds,
    Words,
    BeginsNear,
}

impl Index {
    /// Folds the register's lines.
    pub(crate) fn of(lines: Vec<Listed>) -> Index {
        Index(lines.into_iter().map(Known::of).collect())
    }

    /// Returns what may be meant, best first. Nothing typed offers the register from its start.
    pub(crate) fn search(&self, text: &str) -> Vec<Hit> {
        let wanted = Wanted::of(text);
        let mut found: Vec<(Fit, &Known)> =
            self.0.iter().filter_map(|known| Some((wanted.fit(known)?, known))).collect();
        // Stable: within one fit the register's own order, by tag, stays.
        found.sort_by_key(|(fit, _)| *fit);
        found.into_iter().take(MOST).map(|(fit, known)| known.hit(fit == Fit::Exact)).collect()
    }
}

impl Known {
    fn of(listed: Listed) -> Known {
        let tag = loose(&listed.tag).chars().collect();
        let words = words(&format!("{} {} {}", listed.service, listed.site, listed.serial));
        Known { listed, tag, words }
    }

    fn hit(&self, exact: bool) -> Hit {
        Hit {
            tag: self.listed.tag.clone(),
            service: self.listed.service.clone(),
            site: self.listed.site.clone(),
            serial: self.listed.serial.clone(),
            exact,
        }
    }
}

struct Wanted {
    tag: Vec<char>,
    words: Vec<String>,
}

impl Wanted {
    fn of(text: &str) -> Wanted {
        Wanted { tag: loose(text).chars().collect(), words: words(text) }
    }

    fn fit(&self, known: &Known) -> Option<Fit> {
        if self.tag == known.tag && !self.tag.is_empty() {
            return Some(Fit::Exact);
        }
        let forgiving = self.tag.len() >= LEAST_FORGIVING;
        if forgiving && within_one(&self.tag, &known.tag) {
            return Some(Fit::Near);
        }
        if known.tag.starts_with(&self.tag) {
            return Some(Fit::Begins);
        }
        if known.tag.windows(self.tag.len().max(1)).any(|part| part == self.tag) {
            return Some(Fit::Holds);
        }
        if !self.words.is_empty()
            && self.words.iter().all(|word| known.words.iter().any(|own| like(word, own)))
        {
            return Some(Fit::Words);
        }
        (forgiving && begins_near(&self.tag, &known.tag)).then_some(Fit::BeginsNear)
    }
}

/// Splits a text into words without case; dashes within a serial number split it too.
fn words(text: &str) -> Vec<String> {
    text.split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
        .collect()
}

/// Returns whether a word typed is the beginning of one known, or a longer one with one letter wrong.
fn like(typed: &str, own: &str) -> bool {
    own.starts_with(typed) || (typed.chars().count() >= 5 && strsim::osa_distance(typed, own) <= 1)
}

/// Returns whether one wrong, missing, extra or swapped letter makes the two the same.
fn within_one(one: &[char], other: &[char]) -> bool {
    if one.len().abs_diff(other.len()) > 1 {
        return false;
    }
    let same = one.iter().zip(other).take_while(|(a, b)| a == b).count();
    let (one, other) = (one.get(same..).unwrap_or_default(), other.get(same..).unwrap_or_default());
    match (one, other) {
        ([a, b, rest @ ..], [c, d, tail @ ..]) if a == d && b == c && rest == tail => true,
        ([_, rest @ ..], [_, tail @ ..]) if rest == tail => true,
        ([_, rest @ ..], tail) | (tail, [_, rest @ ..]) if rest == tail => true,
        _ => one.is_empty() && other.is_empty(),
    }
}

/// Returns whether the tag begins with nearly what was typed so far.
fn begins_near(typed: &[char], tag: &[char]) -> bool {
    let lengths = typed.len().saturating_sub(1)..=typed.len() + 1;
    lengths.into_iter().filter_map(|length| tag.get(..length)).any(|start| within_one(typed, start))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::tag;

    fn line(tag: &str, service: &str, site: &str) -> Listed {
        Listed {
            key: tag::key(tag),
            tag: tag.into(),
            service: service.into(),
            site: site.into(),
            serial: format!("MW-{tag}"),
        }
    }

    fn index() -> Index {
        Index::of(vec![
            line("LT-2041", "Sedge Hill tower level", "Sedge Hill"),
            line("LT-2047", "Sedge Hill north tower level", "Sedge Hill"),
            line("LT-3107", "Cold Ash tower level", "Cold Ash"),
            line("LT-4012", "Wash-water tank level", "Tarn Lane"),
            line("PT-4012", "Wash-water pump pressure", "Tarn Lane"),
        ])
    }

    fn tags(text: &str) -> Vec<String> {
        index().search(text).into_iter().map(|hit| hit.tag).collect()
    }

    #[rstest]
    #[case::as_written("LT-3107")]
    #[case::without_case_or_separators("lt 3107")]
    #[case::letter_o_for_zero("LT-31O7")]
    #[case::letter_l_for_one("lt-3l07")]
    #[case::one_wrong("LT-3108")]
    #[case::one_missing("LT-307")]
    #[case::one_extra("LT-31907")]
    #[case::two_swapped("LT-3017")]
    #[case::first_wrong("IT-3107")]
    #[case::its_start("lt-31")]
    #[case::its_number_alone("3107")]
    #[case::site_words("cold ash")]
    #[case::a_word_misspelt("Cold Ash towre")]
    #[case::serial_number("MW-LT-3107")]
    fn the_instrument_comes_first(#[case] typed: &str) {
        assert_eq!(tags(typed).first().map(String::as_str), Some("LT-3107"), "{typed}");
    }

    #[test]
    fn near_neighbours_stand_beside_the_exact_one_and_only_that_one_is_exact() {
        let hits = index().search("lt2041");
        let seen: Vec<_> = hits.iter().map(|hit| (hit.tag.as_str(), hit.exact)).collect();
        assert_eq!(seen, [("LT-2041", true), ("LT-2047", false)]);
        assert_eq!(tags("LT-4012"), ["LT-4012", "PT-4012"]);
    }

    #[test]
    fn what_is_like_nothing_finds_nothing() {
        assert_eq!(tags("XQ-9999"), Vec::<String>::new());
        assert_eq!(tags("boiler"), Vec::<String>::new());
    }

    #[test]
    fn nothing_typed_offers_the_register_and_no_more_than_twenty() {
        assert_eq!(tags("  -"), ["LT-2041", "LT-2047", "LT-3107", "LT-4012", "PT-4012"]);
        let many = Index::of((0..50).map(|n| line(&format!("LT-{n:04}"), "", "")).collect());
        assert_eq!(many.search("LT").len(), MOST);
    }

    proptest::proptest! {
        /// The hand-written comparison agrees with the library's distance at the bound used here.
        #[test]
        fn within_one_is_a_distance_of_at_most_one(one in "[A-C0]{0,5}", other in "[A-C0]{0,5}") {
            let (a, b): (Vec<char>, Vec<char>) = (one.chars().collect(), other.chars().collect());
            proptest::prop_assert_eq!(within_one(&a, &b), strsim::osa_distance(&one, &other) <= 1);
        }
    }
}
