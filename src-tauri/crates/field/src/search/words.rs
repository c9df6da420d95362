//! The words of a register, each kept once however many instruments have it.

use std::collections::BTreeMap;
use std::ops::Range;

use super::lines::{Letters, Lines};
use super::slip::Slip;

/// Below this length a word with one letter wrong says nothing.
const LEAST_FORGIVING: usize = 5;

/// Every word of a register, in order, and the words that each of its instruments has.
pub(super) struct Words {
    words: Lines,
    /// The numbers of the instruments' words, one instrument behind the other.
    had: Vec<u32>,
    /// Where each instrument's words end among them.
    ends: Vec<usize>,
}

impl Words {
    /// Takes the words out of each instrument's texts.
    pub(super) fn of<'a, const N: usize>(texts: impl Iterator<Item = [&'a str; N]>) -> Words {
        let mut known: BTreeMap<String, u32> = BTreeMap::new();
        let (mut had, mut ends) = (Vec::new(), Vec::new());
        for instrument in texts {
            for word in instrument.into_iter().flat_map(split) {
                let next = number(known.len());
                had.push(*known.entry(word).or_insert(next));
            }
            ends.push(had.len());
        }
        // From the order in which they came to the order of their letters.
        let mut places = vec![0; known.len()];
        let mut words = Lines::default();
        for (word, came) in known {
            if let Some(place) = places.get_mut(came as usize) {
                *place = number(words.count());
            }
            words.push(&word);
        }
        for word in &mut had {
            *word = places.get(*word as usize).copied().unwrap_or_default();
        }
        Words { words, had, ends }
    }

    /// Returns for each instrument, in order, the numbers of its words.
    pub(super) fn by_instrument(&self) -> impl Iterator<Item = &[u32]> {
        let mut start = 0;
        self.ends.iter().map(move |end| {
            let had = self.had.get(start..*end).unwrap_or_default();
            start = *end;
            had
        })
    }

    /// Returns for each word typed which of the register's words it may mean.
    pub(super) fn meant(&self, text: &str) -> Meant {
        let meant: Vec<Like> = split(text).map(|typed| self.like(&typed)).collect();
        // One word that means nothing, and no instrument can have them all.
        Meant(if meant.iter().any(Like::is_nothing) { Vec::new() } else { meant })
    }

    fn like(&self, typed: &str) -> Like {
        let letters: Vec<char> = typed.chars().collect();
        let beginning = self.words.beginning_with(&letters);
        let mut near = Vec::new();
        if letters.len() >= LEAST_FORGIVING {
            let wanted = Letters::of(&letters);
            let seen = self.words.sets().enumerate().filter(|(_, set)| wanted.lacking_in(*set) <= 1);
            let slipped = seen.filter(|(at, _)| Slip::between(&letters, self.words.line(*at)).is_some());
            near.extend(slipped.map(|(at, _)| number(at)));
        }
        Like { beginning: number(beginning.start)..number(beginning.end), near }
    }
}

/// What one word typed may mean: those that begin with it, and, in order, those one slip away.
struct Like {
    beginning: Range<u32>,
    near: Vec<u32>,
}

impl Like {
    fn is_nothing(&self) -> bool {
        self.beginning.is_empty() && self.near.is_empty()
    }

    fn has(&self, number: u32) -> bool {
        self.beginning.contains(&number) || self.near.binary_search(&number).is_ok()
    }
}

/// What words typed may mean.
pub(super) struct Meant(Vec<Like>);

impl Meant {
    /// Returns whether each word typed is the beginning of one of these, or a longer one with one letter wrong.
    pub(super) fn all_in(&self, numbers: &[u32]) -> bool {
        !self.0.is_empty() && self.0.iter().all(|like| numbers.iter().any(|number| like.has(*number)))
    }
}

fn number(place: usize) -> u32 {
    u32::try_from(place).unwrap_or(u32::MAX)
}

/// Splits a text into words without case; dashes within a serial number split it too.
fn split(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
}
