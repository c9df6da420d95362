//! Reads every picture that an index lists and prints how many were read, by category, with times.
//!
//! `cargo run --release -p tagcode --example read_folder -- FOLDER [full|photo|frame] [each]`: FOLDER holds `index.csv`
//! with the columns file, expected (a JSON list of texts), category, half, truth. A picture whose truth is `none` is
//! not counted; what was read from it is shown. It measures nothing without such a folder.
#![allow(clippy::print_stdout, clippy::unwrap_used, clippy::indexing_slicing, clippy::expect_used)] // A measuring tool.

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

use tagcode::{Effort, photo, read};

/// How one category did.
#[derive(Default)]
struct Tally {
    pictures: usize,
    read: usize,
    /// Something was read, but nothing of what was expected.
    otherwise: usize,
}

/// What one picture gave.
struct Seen {
    texts: Vec<String>,
    attempts: usize,
    time: Duration,
}

fn main() {
    let told: Vec<String> = std::env::args().skip(1).collect();
    let folder = told.first().expect("a folder with index.csv");
    let effort = match told.get(1).map(String::as_str) {
        Some("frame") => Effort::Frame,
        Some("photo") => Effort::Photo,
        _ => Effort::Full,
    };
    let mut index = csv::Reader::from_path(format!("{folder}/index.csv")).unwrap();
    let mut tallies: BTreeMap<String, Tally> = BTreeMap::new();
    let mut times = Vec::new();
    for row in index.records() {
        let row = row.unwrap();
        let (name, category, truth) = (&row[0], &row[2], &row[4]);
        let expected: Vec<String> = serde_json::from_str(&row[1]).unwrap_or_default();
        let expected: Vec<String> = expected.iter().map(|text| plain(text)).collect();
        let seen = look(&format!("{folder}/{name}"), effort);
        let right = seen.texts.iter().any(|text| expected.contains(text));
        if !right || told.len() > 2 {
            println!("{name} ({truth}): {:?}, {} attempts, {:?}", seen.texts, seen.attempts, seen.time);
        }
        if truth != "none" {
            let tally = tallies.entry(category.to_owned()).or_default();
            tally.pictures += 1;
            tally.read += usize::from(right);
            tally.otherwise += usize::from(!right && !seen.texts.is_empty());
            times.push(seen.time);
        }
    }
    tell(&tallies, times);
}

fn look(path: &str, effort: Effort) -> Seen {
    let picture = photo::decode(&std::fs::read(path).unwrap()).unwrap();
    let begun = Instant::now();
    let reading = read(&picture, effort, &mut || true);
    let time = begun.elapsed();
    let texts = reading.codes.iter().map(|code| plain(&code.text)).collect();
    Seen { texts, attempts: reading.attempts, time }
}

/// Line ends and outer space are no part of what is compared.
fn plain(text: &str) -> String {
    text.replace("\r\n", "\n").trim().to_owned()
}

fn tell(tallies: &BTreeMap<String, Tally>, mut times: Vec<Duration>) {
    for (category, tally) in tallies {
        println!(
            "{category:24} {:4} of {:4} read, {} otherwise",
            tally.read, tally.pictures, tally.otherwise
        );
    }
    let sum = |part: fn(&Tally) -> usize| tallies.values().map(part).sum::<usize>();
    let (pictures, right) = (sum(|tally| tally.pictures), sum(|tally| tally.read));
    let share = 100.0 * right as f64 / pictures as f64;
    println!("all {right} of {pictures} ({share:.1} %), {} otherwise", sum(|tally| tally.otherwise));
    times.sort();
    let within = |limit: u64| times.iter().filter(|time| **time <= Duration::from_millis(limit)).count();
    println!("{} within 40 ms, {} within 150 ms, {} within 400 ms", within(40), within(150), within(400));
    let at = |tenths: usize| times[(times.len() - 1) * tenths / 10];
    println!("median {:?}, nine tenths {:?}, most {:?}", at(5), at(9), at(10));
}
