//! The words of a register, each kept once however many instruments have it.

use std::collections::BTreeMap;

use super::slip::Slip;

/// Below this length a word with one letter wrong says nothing.
const LEAST_FORGIVING: usize = 5;

/// Every word of a register with its number.
#[derive(Default)]
pub(super) struct Words(BTreeMap<String, u32>);

impl Words {
    /// Returns the numbers of a text's words, giving new words new numbers.
    pub(super) fn take(&mut self, text: &str) -> Vec<u32> {
        let mut numbers = Vec::new();
        for word in split(text) {
            let next = u32::try_from(self.0.len()).unwrap_or(u32::MAX);
            numbers.push(*self.0.entry(word).or_insert(next));
        }
        numbers
    }

    /// Returns for each word typed which of the register's words it may mean.
    pub(super) fn meant(&self, text: &str) -> Meant {
        Meant(split(text).map(|typed| self.like(&typed)).collect())
    }

    fn like(&self, typed: &str) -> Vec<bool> {
        let letters: Vec<char> = typed.chars().collect();
        let forgiving = letters.len() >= LEAST_FORGIVING;
        let mut own_letters = Vec::new();
        let mut like = vec![false; self.0.len()];
        for (own, number) in &self.0 {
            let fits = own.starts_with(typed)
                || (forgiving && {
                    own_letters.clear();
                    own_letters.extend(own.chars());
                    Slip::between(&letters, &own_letters).is_some()
                });
            if let Some(place) = like.get_mut(*number as usize) {
                *place = fits;
            }
        }
        like
    }
}

/// What words typed may mean.
pub(super) struct Meant(Vec<Vec<bool>>);

impl Meant {
    /// Returns whether each word typed is the beginning of one of these, or a longer one with one letter wrong.
    pub(super) fn all_in(&self, numbers: &[u32]) -> bool {
        !self.0.is_empty()
            && self.0.iter().all(|like| {
                numbers.iter().any(|number| like.get(*number as usize).copied().unwrap_or_default())
            })
    }
}

/// Splits a text into words without case; dashes within a serial number split it too.
fn split(text: &str) -> impl Iterator<Item = String> + '_ {
    text.split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .map(str::to_lowercase)
}
