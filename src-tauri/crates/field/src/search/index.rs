//! The register folded for searching, and the order in which it answers.

use store::{Listed, TagKey};

use super::lines::{Letters, Lines};
use super::offered::{Offered, Standing};
use super::slip::Slip;
use super::words::{Meant, Words};
use crate::tag::{self, loose};
use crate::view::Hit;

/// How many are offered.
const MOST: usize = 20;
/// Below this length a tag with one letter wrong says nothing: everything is near.
const LEAST_FORGIVING: usize = 3;

/// The register folded for searching, once for each load of it.
pub(crate) struct Index {
    known: Vec<Listed>,
    /// Their folded tags: a search goes through all of them.
    tags: Lines,
    words: Words,
}

/// How well an instrument fits, best first.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Fit {
    Whole(Whole),
    /// Before the slip counts where the instrument stands among what was offered: of tags that one slip apart are another
    /// instrument's, the one that is due, near or visited before is meant far more often than any other.
    /// Of tags that folding makes one, the one with the letters typed comes first.
    Near(Standing, Slip, Letter),
    Begins,
    Holds,
    Words,
    BeginsNear(Standing, Slip),
}

/// How the whole of a tag was typed, best first. Only the first makes no two tags of a register one.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Whole {
    /// Letter by letter, each separator where the tag has one.
    Written,
    /// Letter by letter, the separators left out or elsewhere.
    Spelt,
    /// With letters in the place of digits that look like them, or of each other.
    Alike,
}

/// Whether the letters beside a slip are those typed, or only look like them.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Letter {
    Typed,
    Alike,
}

impl Index {
    /// Folds the register's lines.
    pub(crate) fn of(known: Vec<Listed>) -> Index {
        let mut tags = Lines::default();
        known.iter().for_each(|listed| tags.push(&loose(&listed.tag)));
        let words = known.iter().map(|listed| [&*listed.service, &*listed.site, &*listed.serial]);
        Index { words: Words::of(words), tags, known }
    }

    /// Returns what may be meant, best first. Nothing typed offers the register from its start.
    pub(crate) fn search(&self, text: &str, offered: &Offered) -> Vec<Hit> {
        let wanted = Wanted::of(text, self.words.meant(text));
        let mut best = Best::default();
        let lines = self.tags.sets().zip(self.words.by_instrument()).zip(&self.known);
        for (place, ((set, words), listed)) in lines.enumerate() {
            let tag = || self.tags.line(place);
            if let Some(fit) = wanted.fit(set, tag, words, listed, offered) {
                best.take(fit, place);
            }
        }
        let best = best.in_order();
        let exact = wanted.exact(&best, &self.known);
        let hits = best.into_iter();
        hits.filter_map(|(_, place)| Some(hit(self.known.get(place)?, exact == Some(place)))).collect()
    }

    /// Returns one instrument by its folded tag.
    pub(crate) fn hit_of(&self, key: &TagKey) -> Option<Hit> {
        // The register hands its lines out in the order of their folded tags.
        let place = self.known.binary_search_by(|known| known.key.cmp(key)).ok()?;
        Some(hit(self.known.get(place)?, false))
    }

    /// Returns how many instruments there are.
    pub(crate) fn count(&self) -> usize {
        self.known.len()
    }

    /// Returns all instruments, by tag.
    pub(crate) fn hits(&self) -> impl Iterator<Item = Hit> {
        self.known.iter().map(|known| hit(known, false))
    }
}

fn hit(listed: &Listed, exact: bool) -> Hit {
    Hit {
        tag: listed.tag.clone(),
        service: listed.service.clone(),
        site: listed.site.clone(),
        serial: listed.serial.clone(),
        exact,
        beside: String::new(),
    }
}

/// The best found so far: never more than a few times as many as are offered.
#[derive(Default)]
struct Best(Vec<(Fit, usize)>);

impl Best {
    fn take(&mut self, fit: Fit, place: usize) {
        self.0.push((fit, place));
        if self.0.len() >= 8 * MOST {
            self.keep_the_best();
        }
    }

    fn keep_the_best(&mut self) {
        if self.0.len() > MOST {
            self.0.select_nth_unstable(MOST);
            self.0.truncate(MOST);
        }
    }

    /// Within one fit the register's own order, by tag, stays.
    fn in_order(mut self) -> Vec<(Fit, usize)> {
        self.keep_the_best();
        self.0.sort_unstable();
        self.0
    }
}

struct Wanted {
    /// As it tells instruments apart.
    key: TagKey,
    tag: Vec<char>,
    letters: Letters,
    meant: Meant,
}

impl Wanted {
    fn of(text: &str, meant: Meant) -> Wanted {
        let tag: Vec<char> = loose(text).chars().collect();
        Wanted { key: tag::key(text), letters: Letters::of(&tag), tag, meant }
    }

    /// Returns which one, if any, is the tag that was typed: letter by letter, or alone in being meant by it. What stands
    /// in the way of that is another one of the same letters, and a separator typed where the tag has none.
    fn exact(&self, best: &[(Fit, usize)], known: &[Listed]) -> Option<usize> {
        let mut whole = best.iter().map_while(|(fit, place)| match fit {
            Fit::Whole(whole) => Some((*whole, *place)),
            _ => None,
        });
        let (first, place) = whole.next()?;
        let alone = first == Whole::Written || whole.next().is_none_or(|(next, _)| next != first);
        (alone && tag::parts_within(&self.key, &known.get(place)?.key)).then_some(place)
    }

    fn whole(&self, listed: &Listed) -> Whole {
        if self.key == listed.key {
            Whole::Written
        } else if tag::spelt(&self.key) == tag::spelt(&listed.key) {
            Whole::Spelt
        } else {
            Whole::Alike
        }
    }

    /// A tag that lacks two of the letters typed is no slip away, and one that lacks any does not hold it: that is
    /// seen without a look at the tag.
    fn fit<'a>(
        &self,
        set: Letters,
        tag: impl FnOnce() -> &'a [char],
        words: &[u32],
        listed: &Listed,
        offered: &Offered,
    ) -> Option<Fit> {
        let standing = || offered.standing(listed);
        let by_words = || self.meant.all_in(words).then_some(Fit::Words);
        let lacking = self.letters.lacking_in(set);
        if lacking > 1 {
            return by_words();
        }
        let (typed, tag) = (self.tag.as_slice(), tag());
        if typed == tag && !typed.is_empty() {
            return Some(Fit::Whole(self.whole(listed)));
        }
        let forgiving = typed.len() >= LEAST_FORGIVING;
        if let Some(slip) = Slip::between(typed, tag).filter(|_| forgiving) {
            let is_typed = Slip::between(&tag::spelt(&self.key), &tag::spelt(&listed.key)).is_some();
            return Some(Fit::Near(standing(), slip, if is_typed { Letter::Typed } else { Letter::Alike }));
        }
        if lacking == 0 && tag.starts_with(typed) {
            return Some(Fit::Begins);
        }
        if lacking == 0 && tag.windows(typed.len().max(1)).any(|part| part == typed) {
            return Some(Fit::Holds);
        }
        by_words().or_else(|| {
            let slip = Slip::at_the_start(typed, tag).filter(|_| forgiving)?;
            Some(Fit::BeginsNear(standing(), slip))
        })
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

    #[rstest]
    #[case::as_written("FI-101", &["FI-101", "FL-101"], Some("FI-101"))]
    #[case::the_other("fl 101", &["FL-101", "FI-101"], Some("FL-101"))]
    #[case::without_separators("LL101", &["LL-101", "LI-101"], Some("LL-101"))]
    #[case::a_digit_for_the_letter("F1-101", &["FI-101", "FL-101"], None)]
    #[case::parted_one_way("LT-1-11", &["LT-1-11", "LT-11-1"], Some("LT-1-11"))]
    #[case::parted_the_other_way("lt/11/1", &["LT-11-1", "LT-1-11"], Some("LT-11-1"))]
    #[case::not_parted("LT111", &["LT-1-11", "LT-11-1"], None)]
    #[case::parted_as_neither("L-T111", &["LT-1-11", "LT-11-1"], None)]
    #[case::alone_in_looking_like_it("PT-2O41", &["PT-2041"], Some("PT-2041"))]
    #[case::alone_and_parted_elsewhere("PT-20-41", &["PT-2041"], None)]
    fn of_tags_that_fold_into_one_the_one_as_written_comes_first_and_no_other_is_exact(
        #[case] typed: &str,
        #[case] first: &[&str],
        #[case] exact: Option<&str>,
    ) {
        let mut tags = ["FI-101", "FL-101", "LI-101", "LL-101", "LT-1-11", "LT-11-1", "PT-2041"];
        for _ in 0..2 {
            let hits =
                Index::of(tags.map(|tag| line(tag, "", "")).to_vec()).search(typed, &Offered::default());
            // Those that come in the register's order, whichever that is, stand in it.
            let mut seen: Vec<_> = hits.iter().take(first.len()).map(|hit| hit.tag.as_str()).collect();
            if exact.is_none() {
                seen.sort_unstable();
            }
            assert_eq!(seen, first, "{typed}");
            let marked: Vec<_> = hits.iter().filter(|hit| hit.exact).map(|hit| hit.tag.as_str()).collect();
            assert_eq!(marked, exact.into_iter().collect::<Vec<_>>(), "{typed}");
            tags.reverse();
        }
    }

    #[test]
    fn beside_a_slip_the_letters_typed_still_count() {
        let alike = || Index::of(["FI-1012", "FL-1012"].map(|tag| line(tag, "", "")).into());
        let first = |text: &str| alike().search(text, &Offered::default()).first().map(|hit| hit.tag.clone());
        assert_eq!(first("FL-1021").as_deref(), Some("FL-1012"));
        assert_eq!(first("FI-1021").as_deref(), Some("FI-1012"));
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
    fn the_best_of_many_comes_first_wherever_it_stands() {
        let many = Index::of((0..500).map(|n| line(&format!("LT-{n:04}"), "", "")).collect());
        let tags = |text: &str| -> Vec<String> {
            many.search(text, &Offered::default()).into_iter().map(|hit| hit.tag).collect()
        };
        // Four hundred before them begin with what is one slip away.
        let expected: Vec<String> = (400..400 + MOST).map(|n| format!("LT-{n:04}")).collect();
        assert_eq!(tags("LT-04"), expected);
        assert_eq!(tags("LT-0499").first().map(String::as_str), Some("LT-0499"));
    }

    #[test]
    fn nothing_typed_offers_the_register_and_no_more_than_twenty() {
        assert_eq!(tags("  -"), ["LT-2041", "LT-2047", "LT-3107", "LT-4012", "PT-4012"]);
        let many = Index::of((0..50).map(|n| line(&format!("LT-{n:04}"), "", "")).collect());
        assert_eq!(many.search("LT", &Offered::default()).len(), MOST);
    }
}
