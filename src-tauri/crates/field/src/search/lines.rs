//! Texts one behind the other, each with the set of its letters, so that most can be passed over at a glance.

use std::ops::Range;

/// Texts as letters, gone through from the first to the last.
#[derive(Default)]
pub(super) struct Lines {
    letters: Vec<char>,
    /// Where each text ends among the letters.
    ends: Vec<usize>,
    sets: Vec<Letters>,
}

/// Which letters and digits a text has. Letters of other scripts share places, so a set tells what is *not* there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(super) struct Letters(u64);

impl Letters {
    /// Returns the letters of a text.
    pub(super) fn of(text: &[char]) -> Letters {
        Letters(text.iter().fold(0, |set, letter| set | (1 << place(*letter))))
    }

    /// Returns how many of these letters a text with those ones lacks for certain.
    pub(super) fn lacking_in(self, other: Letters) -> u32 {
        (self.0 & !other.0).count_ones()
    }
}

/// Ten places for digits, 26 for letters whatever their case, the other 28 for all that is left.
fn place(letter: char) -> u32 {
    match letter {
        '0'..='9' => u32::from(letter) - u32::from('0'),
        'a'..='z' => u32::from(letter) - u32::from('a') + 10,
        'A'..='Z' => u32::from(letter) - u32::from('A') + 10,
        other => u32::from(other) % 28 + 36,
    }
}

impl Lines {
    /// Puts a text behind the others.
    pub(super) fn push(&mut self, text: &str) {
        let start = self.letters.len();
        self.letters.extend(text.chars());
        self.ends.push(self.letters.len());
        self.sets.push(Letters::of(self.letters.get(start..).unwrap_or_default()));
    }

    /// Returns how many there are.
    pub(super) fn count(&self) -> usize {
        self.ends.len()
    }

    /// Returns one text; one that is not there is empty.
    pub(super) fn line(&self, at: usize) -> &[char] {
        let start = at.checked_sub(1).and_then(|before| self.ends.get(before)).copied().unwrap_or_default();
        let end = self.ends.get(at).copied().unwrap_or(start);
        self.letters.get(start..end).unwrap_or_default()
    }

    /// Returns the letters of every text, in order.
    pub(super) fn sets(&self) -> impl Iterator<Item = Letters> {
        self.sets.iter().copied()
    }

    /// Of texts that stand in their order, returns the places of those that begin with `start`.
    pub(super) fn beginning_with(&self, start: &[char]) -> Range<usize> {
        let first = self.first_from(0, |line| line >= start);
        first..self.first_from(first, |line| !line.starts_with(start))
    }

    /// Returns the first place, from one on, at which something holds that holds for all behind it too.
    fn first_from(&self, from: usize, holds: impl Fn(&[char]) -> bool) -> usize {
        let (mut low, mut high) = (from, self.count());
        while low < high {
            let middle = low + (high - low) / 2;
            if holds(self.line(middle)) {
                high = middle;
            } else {
                low = middle + 1;
            }
        }
        low
    }
}

#[cfg(test)]
mod tests {
    use super::super::slip::Slip;
    use super::*;

    fn letters(text: &str) -> Vec<char> {
        text.chars().collect()
    }

    fn lines(texts: &[&str]) -> Lines {
        let mut lines = Lines::default();
        texts.iter().for_each(|text| lines.push(text));
        lines
    }

    #[test]
    fn each_text_comes_back() {
        let lines = lines(&["lt", "", "2041", "über"]);
        let seen: Vec<String> = (0..lines.count()).map(|at| lines.line(at).iter().collect()).collect();
        assert_eq!(seen, ["lt", "", "2041", "über"]);
        assert_eq!(lines.line(4), letters(""));
    }

    #[test]
    fn those_that_begin_alike_stand_together() {
        let lines = lines(&["ash", "cold", "colder", "cole", "zeal"]);
        let at = |start: &str| lines.beginning_with(&letters(start));
        assert_eq!((at("col"), at("cold"), at("colx"), at("")), (1..4, 1..3, 4..4, 0..5));
        assert_eq!(at("zz"), 5..5);
    }

    #[test]
    fn what_is_lacking_is_counted_whatever_the_case() {
        let lacking =
            |one: &str, other: &str| Letters::of(&letters(one)).lacking_in(Letters::of(&letters(other)));
        assert_eq!((lacking("LT2041", "lt1024"), lacking("LT2041", "PT2041"), lacking("99", "")), (0, 1, 1));
        // Two letters of another script that share a place tell nothing.
        assert_eq!(lacking("\u{e9}", "\u{105}"), 0);
    }

    proptest::proptest! {
        /// A glance passes over nothing that could fit.
        #[test]
        fn what_fits_lacks_one_letter_at_most(typed in "[A-D0é]{1,5}", text in "[A-D0é]{0,7}") {
            let (typed, text) = (letters(&typed), letters(&text));
            let lacking = Letters::of(&typed).lacking_in(Letters::of(&text));
            if Slip::between(&typed, &text).or(Slip::at_the_start(&typed, &text)).is_some() {
                proptest::prop_assert!(lacking <= 1);
            }
            if text.windows(typed.len()).any(|part| part == typed) {
                proptest::prop_assert_eq!(lacking, 0);
            }
        }
    }
}
