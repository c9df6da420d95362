//! Forgiving search among 100,000 instruments as dense as a real plant's.
//!
//! Where a mistyped tag happens to be another instrument's, no search can know; those are left out here, and shown
//! as exact with their neighbours beside them, unless several tags are folded into one: then only the one as written is. Beside our rates stands what the best possible order could reach: it
//! knows the rule by which the slips were made, and counts for every tag in how many ways it could have become what
//! was typed.
//!
//! That the right one be first nine times in ten, no order of the text alone can reach here: where a sequence is full, a
//! lost digit leaves up to ten tags that are equally likely, and the best order puts the right one first in two or three
//! of four. Of the text alone it is asked, therefore, to be as good as that order. Nine in ten first, and 99 in a hundred
//! among five, are asked where the phone knows what is meant, though no list was opened: a day's round of sisters in
//! sequence that is due, and one that was visited.
#![allow(
    clippy::indexing_slicing,
    clippy::print_stdout,
    reason = "indices are taken within; the rates are told"
)]

use std::collections::BTreeMap;

use domain::visit::Choice;
use field::Phone;
use kit::camera::Chance;
use kit::plant::{self, Plant, SLIPS};
use rstest::rstest;

use crate::desk::{Hands, open};

const INSTRUMENTS: usize = 100_000;
/// Mistyped tags a kind of slip: enough that one in a hundred is several.
const TRIES: usize = 80;

/// How often the right one stands first and among the first five, and how often it could.
#[derive(Debug, Default, Clone, Copy)]
struct Rate {
    tries: f64,
    first: f64,
    five: f64,
    best_first: f64,
    best_five: f64,
}

impl Rate {
    fn plus(self, other: Rate) -> Rate {
        Rate {
            tries: self.tries + other.tries,
            first: self.first + other.first,
            five: self.five + other.five,
            best_first: self.best_first + other.best_first,
            best_five: self.best_five + other.best_five,
        }
    }
}

/// What a search folds: letters that look like digits.
fn folded(text: &str) -> String {
    text.chars()
        .filter(|letter| letter.is_alphanumeric())
        .map(|letter| match letter {
            'O' => '0',
            'I' | 'L' => '1',
            other => other,
        })
        .collect()
}

/// The instruments by their folded tags: most stand alone.
fn by_folded(plants: &[Plant]) -> BTreeMap<String, Vec<&Plant>> {
    let mut by_folded: BTreeMap<String, Vec<&Plant>> = BTreeMap::new();
    for plant in plants {
        by_folded.entry(folded(&plant.tag)).or_default().push(plant);
    }
    by_folded
}

/// Tries every slip on tags out of `meant`.
fn tried(phone: &Phone, plants: &[Plant], meant: &[&Plant]) -> BTreeMap<&'static str, Rate> {
    let tags: BTreeMap<String, usize> =
        by_folded(plants).into_iter().map(|(tag, plants)| (tag, plants.len())).collect();
    let mut chance = Chance::from(41);
    let mut rates = BTreeMap::new();
    for slip in SLIPS {
        let mut rate = Rate::default();
        while rate.tries < TRIES as f64 {
            let right = &meant[chance.bits() as usize % meant.len()].tag;
            let Some(typed) = plant::mistyped(right, slip, &mut chance) else { continue };
            if tags.contains_key(&folded(&typed)) {
                continue;
            }
            let hits = phone.search(&typed).unwrap();
            assert!(hits.iter().all(|hit| !hit.exact), "{typed} is no tag");
            let place = hits.iter().position(|hit| hit.tag == *right);
            let (best_first, best_five) = best(&folded(&typed), &tags);
            rate = rate.plus(Rate {
                tries: 1.0,
                first: f64::from(u8::from(place == Some(0))),
                five: f64::from(u8::from(place.is_some_and(|place| place < 5))),
                best_first,
                best_five,
            });
        }
        rates.insert(slip, rate);
    }
    rates
}

/// How surely the likeliest and the five likeliest tags hold the one that was meant.
///
/// Of tags that are folded into one each is as likely as the other.
fn best(typed: &str, tags: &BTreeMap<String, usize>) -> (f64, f64) {
    let letters: Vec<char> = typed.chars().collect();
    let mut ways: BTreeMap<String, f64> = BTreeMap::new();
    let mut add = |from: Vec<char>, weight: f64| {
        let tag: String = from.into_iter().collect();
        if tags.contains_key(&tag) {
            *ways.entry(tag).or_default() += weight;
        }
    };
    let any = || ('0'..='9').chain('A'..='Z');
    for at in 0..=letters.len() {
        for letter in any() {
            let mut longer = letters.clone();
            longer.insert(at, letter);
            add(longer, 1.0 / (letters.len() as f64 + 1.0));
        }
        if at == letters.len() {
            break;
        }
        // A digit is one of ten one time in two, a letter one of 26 the other time.
        let likely = if letters[at].is_ascii_digit() { 0.05 } else { 0.5 / 26.0 };
        for letter in any() {
            let mut same = letters.clone();
            same[at] = letter;
            add(same, likely / letters.len() as f64);
        }
        if at + 1 < letters.len() {
            let mut same = letters.clone();
            same.swap(at, at + 1);
            add(same, 1.0 / letters.len() as f64);
        }
    }
    let each = ways.iter().flat_map(|(tag, weight)| std::iter::repeat_n(*weight, tags[tag]));
    let mut weights: Vec<f64> = each.collect();
    weights.sort_by(|one, other| other.total_cmp(one));
    let all: f64 = weights.iter().sum();
    let share = |count| weights.iter().take(count).sum::<f64>() / all;
    (share(1), share(5))
}

fn told(name: &str, phone: &Phone, plants: &[Plant], meant: &[&Plant]) -> Rate {
    let rates = tried(phone, plants, meant);
    let mut all = Rate::default();
    for (slip, rate) in &rates {
        println!("{}", line(name, slip, *rate));
        all = all.plus(*rate);
    }
    println!("{}", line(name, "all", all));
    all
}

fn line(name: &str, slip: &str, rate: Rate) -> String {
    let part = |count: f64| 100.0 * count / rate.tries;
    format!(
        "{name}, {slip}: first {:5.1} % (best order {:5.1} %), among five {:5.1} % (best order {:5.1} %)",
        part(rate.first),
        part(rate.best_first),
        part(rate.five),
        part(rate.best_five)
    )
}

#[rstest]
#[case::works("works", plant::works(INSTRUMENTS))]
#[case::sites("sites", plant::sites(INSTRUMENTS))]
fn a_mistyped_tag_finds_its_instrument(#[case] name: &str, #[case] mut plants: Vec<Plant>) {
    // Sisters in sequence, as a round of a day has them: the hardest to tell apart.
    let (due, visited) = (777..789, 5_777..5_789);
    plants[due.clone()].iter_mut().for_each(|plant| plant.due = "2026-11-20".to_owned());
    let folder = tempfile::tempdir().unwrap();
    plant::load(&folder.path().join("headmark.db"), &plants).unwrap();
    let phone = open(folder.path(), &Hands::default(), None).unwrap();
    tags_folded_into_one_are_told_apart(&phone, &plants);
    let anyone: Vec<&Plant> = plants.iter().collect();
    let rate = told(name, &phone, &plants, &anyone);
    // What chance moves in so many tries, at two standard deviations of a rate of nine in ten.
    let chance = 2.0 * (0.9 * 0.1 * rate.tries).sqrt();
    assert!(rate.first >= rate.best_first - chance, "{rate:?}");
    assert!(rate.five >= rate.best_five - chance, "{rate:?}");

    for plant in &plants[visited.clone()] {
        phone.visit_begin(&plant.tag, Choice::ByCode, "").unwrap();
    }
    for (round, known) in [(due, "due"), (visited, "visited")] {
        let round: Vec<&Plant> = plants[round].iter().collect();
        let rate = told(&format!("{name}, among {} {known}", round.len()), &phone, &plants, &round);
        assert!(rate.first >= 0.90 * rate.tries, "{rate:?}");
        assert!(rate.five >= 0.99 * rate.tries, "{rate:?}");
    }
}

fn tags_folded_into_one_are_told_apart(phone: &Phone, plants: &[Plant]) {
    let alike: Vec<Vec<&Plant>> = by_folded(plants).into_values().filter(|alike| alike.len() > 1).collect();
    for [one, other] in plant::ALIKE {
        let both = |alike: &[&Plant]| alike.iter().map(|plant| &*plant.tag).eq([one, other]);
        assert!(alike.iter().any(|alike| both(alike)), "{one}, {other}");
    }
    assert!(alike.len() > 50, "{}", alike.len());
    for alike in alike.iter().step_by(alike.len() / 50) {
        for plant in alike {
            let hits = phone.search(&plant.tag.to_lowercase().replace('-', " ")).unwrap();
            let first = hits.first().map(|hit| (&*hit.tag, hit.exact));
            assert_eq!(first, Some((&*plant.tag, true)));
            assert_eq!(hits.iter().filter(|hit| hit.exact).count(), 1, "{}", plant.tag);
            assert!(alike.iter().all(|other| hits.iter().any(|hit| hit.tag == other.tag)), "{}", plant.tag);
        }
        let hits = phone.search(&folded(&alike[0].tag)).unwrap();
        let exact: Vec<_> = hits.iter().filter(|hit| hit.exact).map(|hit| &hit.tag).collect();
        assert!(exact.is_empty(), "{} may be any of {}: {exact:?}", folded(&alike[0].tag), alike.len());
    }
}
