//! How long a forgiving search takes among 100,000 instruments.
//!
//! Criterion tells the usual search; the slowest hundredth of many different ones is told and held here, because
//! that is the one a person waits for.
#![allow(
    clippy::indexing_slicing,
    clippy::unwrap_used,
    clippy::print_stderr,
    missing_docs,
    reason = "a bench talks to who runs it, and criterion's macros write public items"
)]

use std::hint::black_box;
use std::time::{Duration, Instant};

use criterion::{Criterion, criterion_group, criterion_main};
use field::host::{HostClock, HostEntropy, KeyFolder};
use field::{Opening, Phone, Ports};
use kit::camera::Chance;
use kit::plant::{self, Plant, SLIPS};

const INSTRUMENTS: usize = 100_000;
const SEARCHES: usize = 3_000;
/// What the slowest hundredth may take.
const MOST: Duration = Duration::from_millis(10);

/// Both ways to number, each with tags as dense as its kind has them.
fn search(c: &mut Criterion) {
    among(c, "works", &plant::works(INSTRUMENTS));
    among(c, "sites", &plant::sites(INSTRUMENTS));
}

fn among(c: &mut Criterion, kind: &str, plants: &[Plant]) {
    let folder = tempfile::tempdir().unwrap();
    let data_file = folder.path().join("headmark.db");
    plant::load(&data_file, plants).unwrap();
    let ports = Ports {
        clock: Box::new(HostClock::start()),
        keys: Box::new(KeyFolder::at(folder.path().join("keys"))),
        entropy: Box::new(HostEntropy),
    };
    let phone = Phone::open(Opening::at(data_file), folder.path().join("exports"), ports).unwrap();
    let begun = Instant::now();
    phone.search("").unwrap();
    eprintln!("first search, with the folding: {:?}", begun.elapsed());
    let asked = asked(plants);
    within_ten_milliseconds(kind, &phone, &asked);
    let mut next = asked.iter().cycle();
    c.bench_function(&format!("forgiving search, {kind}"), |b| {
        b.iter(|| black_box(phone.search(next.next().unwrap()).unwrap()));
    });
}

/// What people type: tags whole, mistyped and begun, words of the site, serial numbers.
fn asked(plants: &[Plant]) -> Vec<String> {
    let mut chance = Chance::from(43);
    let mut asked = Vec::with_capacity(SEARCHES);
    while asked.len() < SEARCHES {
        let plant = &plants[chance.bits() as usize % plants.len()];
        asked.push(plant.tag.clone());
        asked.push(plant.tag.chars().take(5).collect());
        asked.push(plant.serial.clone());
        asked.push(plant.service.clone());
        asked.extend(SLIPS.iter().filter_map(|slip| plant::mistyped(&plant.tag, slip, &mut chance)));
    }
    asked
}

fn within_ten_milliseconds(kind: &str, phone: &Phone, asked: &[String]) {
    let mut times: Vec<Duration> = Vec::with_capacity(asked.len());
    for text in asked {
        let begun = Instant::now();
        black_box(phone.search(text).unwrap());
        times.push(begun.elapsed());
    }
    times.sort();
    let at = |part: f64| times.get((times.len() as f64 * part) as usize).copied().unwrap_or_default();
    eprintln!("{} searches, {kind}: middle {:?}, 99th percentile {:?}", times.len(), at(0.5), at(0.99));
    assert!(at(0.99) <= MOST, "the slowest hundredth takes {:?}; at most {MOST:?}", at(0.99));
}

criterion_group!(benches, search);
criterion_main!(benches);
