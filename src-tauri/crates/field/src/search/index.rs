//! The register folded for searching, and the order in which it answers.

use store::{Listed, TagKey};

use super::offered::{Offered, Standing};
use super::slip::Slip;
use super::words::{Meant, Words};
use crate::tag::loose;
use crate::view::Hit;

/// How many are offered.
const MOST: usize = 20;
/// Below this length a tag with one letter wrong says nothing: everything is near.
const LEAST_FORGIVING: usize = 3;

/// The register folded for searching, once for each load of it.
pub(crate) struct Index {
    known: Vec<Known>,
    /// The folded tags, one behind the other: a search goes through all of them.
    letters: Vec<char>,
    words: Words,
}

struct Known {
    listed: Listed,
    /// Where its tag ends among the letters.
    end: usize,
    words: Vec<u32>,
}

/// How well an instrument fits, best first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    Exact,
    /// Before the slip counts where the instrument stands among what was offered: of tags that one slip apart are another
    /// instrument's, the one that is due, near or visited before is meant far more often than any other.
    Near(Standing, Slip),
    Begins,
    Holds,
    Words,
    BeginsNear(Standing, Slip),
}

impl Index {
    /// Folds the register's lines.
    pub(crate) fn of(lines: Vec<Listed>) -> Index {
        let mut index =
            Index { known: Vec::with_capacity(lines.len()), letters: Vec::new(), words: Words::default() };
        for listed in lines {
            index.letters.extend(loose(&listed.tag).chars());
            let end = index.letters.len();
            let words = [&listed.service, &listed.site, &listed.serial];
            let words = words.into_iter().flat_map(|text| index.words.take(text)).collect();
            index.known.push(Known { listed, end, words });
        }
        index
    }

    /// Returns what may be meant, best first. Nothing typed offers the register from its start.
    pub(crate) fn search(&self, text: &str, offered: &Offered) -> Vec<Hit> {
        let wanted = Wanted { tag: loose(text).chars().collect(), meant: self.words.meant(text) };
        let mut found: Vec<(Fit, usize)> = Vec::new();
        let mut start = 0;
        for (place, known) in self.known.iter().enumerate() {
            let tag = self.letters.get(start..known.end).unwrap_or_default();
            start = known.end;
            let standing = || offered.standing(&known.listed);
            found.extend(wanted.fit(tag, &known.words, standing).map(|fit| (fit, place)));
        }
        // Within one fit the register's own order, by tag, stays.
        if found.len() > MOST {
            found.select_nth_unstable(MOST);
            found.truncate(MOST);
        }
        found.sort_unstable();
        let hits =
            found.into_iter().filter_map(|(fit, place)| Some(self.known.get(place)?.hit(fit == Fit::Exact)));
        hits.collect()
    }

    /// Returns one instrument by its folded tag.
    pub(crate) fn hit_of(&self, key: &TagKey) -> Option<Hit> {
        // The register hands its lines out in the order of their folded tags.
        let place = self.known.binary_search_by(|known| known.listed.key.cmp(key)).ok()?;
        Some(self.known.get(place)?.hit(false))
    }

    /// Returns all instruments, by tag.
    pub(crate) fn hits(&self) -> impl Iterator<Item = Hit> {
        self.known.iter().map(|known| known.hit(false))
    }
}

impl Known {
    fn hit(&self, exact: bool) -> Hit {
        Hit {
            tag: self.listed.tag.clone(),
            service: self.listed.service.clone(),
            site: self.listed.site.clone(),
            serial: self.listed.serial.clone(),
            exact,
            beside: String::new(),
        }
    }
}

struct Wanted {
    tag: Vec<char>,
    meant: Meant,
}

impl Wanted {
    fn fit(&self, tag: &[char], words: &[u32], standing: impl Fn() -> Standing) -> Option<Fit> {
        let typed = self.tag.as_slice();
        if typed == tag && !typed.is_empty() {
            return Some(Fit::Exact);
        }
        let forgiving = typed.len() >= LEAST_FORGIVING;
        if let Some(slip) = Slip::between(typed, tag).filter(|_| forgiving) {
            return Some(Fit::Near(standing(), slip));
        }
        if tag.starts_with(typed) {
            return Some(Fit::Begins);
        }
        if tag.windows(typed.len().max(1)).any(|part| part == typed) {
            return Some(Fit::Holds);
        }
        if self.meant.all_in(words) {
            return Some(Fit::Words);
        }
        let slip = Slip::at_the_start(typed, tag).filter(|_| forgiving)?;
        Some(Fit::BeginsNear(standing(), slip))
    }
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
        index().search(text, &Offered::default()).into_iter().map(|hit| hit.tag).collect()
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
        let hits = index().search("lt2041", &Offered::default());
        let seen: Vec<_> = hits.iter().map(|hit| (hit.tag.as_str(), hit.exact)).collect();
        assert_eq!(seen, [("LT-2041", true), ("LT-2047", false)]);
        assert_eq!(tags("LT-4012"), ["LT-4012", "PT-4012"]);
    }

    #[test]
    fn of_near_ones_what_was_offered_comes_first_then_its_site() {
        let tags = |offered: &Offered| -> Vec<String> {
            index().search("LT-204", offered).into_iter().map(|hit| hit.tag).collect()
        };
        assert_eq!(tags(&Offered::default()), ["LT-2041", "LT-2047"]);
        let listed = line("LT-2047", "", "Sedge Hill north");
        let hit = Index::of(vec![listed]).hits().next().unwrap();
        assert_eq!(tags(&Offered::of([&hit])), ["LT-2047", "LT-2041"]);
        // The whole tag stays first, whatever was offered.
        let exact = index().search("LT-2041", &Offered::of([&hit]));
        assert_eq!(exact.first().map(|hit| (hit.tag.as_str(), hit.exact)), Some(("LT-2041", true)));
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
        assert_eq!(many.search("LT", &Offered::default()).len(), MOST);
    }
}
