//! Reads every picture that an index lists and prints how many were read, by category, with times.
//!
//! `cargo run --release -p tagcode --example read_folder -- FOLDER [full|photo|frame]`: FOLDER holds `index.csv` with
//! the columns file, expected (a JSON list of texts), category, half, truth.
#![allow(clippy::print_stdout, clippy::unwrap_used, clippy::indexing_slicing, clippy::expect_used)] // A measuring tool.

use std::collections::BTreeMap;
use std::time::Instant;

use tagcode::{Effort, photo, read};

fn main() {
    let folder = std::env::args().nth(1).expect("a folder");
    let effort = match std::env::args().nth(2).as_deref() {
        Some("frame") => Effort::Frame,
        Some("photo") => Effort::Photo,
        _ => Effort::Full,
    };
    let verbose = std::env::args().nth(3).is_some();
    let mut index = csv::Reader::from_path(format!("{folder}/index.csv")).unwrap();
    let mut by: BTreeMap<String, (u32, u32, u32)> = BTreeMap::new();
    let mut times = Vec::new();
    for row in index.records() {
        let row = row.unwrap();
        let expected: Vec<String> = serde_json::from_str(&row[1]).unwrap_or_default();
        let expected: Vec<String> =
            expected.iter().map(|text| text.replace("\r\n", "\n").trim().to_owned()).collect();
        if &row[4] == "none" {
            continue;
        }
        let bytes = std::fs::read(format!("{folder}/{}", &row[0])).unwrap();
        let picture = photo::decode(&bytes).unwrap();
        let begun = Instant::now();
        let seen = read(&picture, effort, &mut || true);
        let time = begun.elapsed();
        times.push(time);
        let texts: Vec<String> =
            seen.codes.iter().map(|code| code.text.replace("\r\n", "\n").trim().to_owned()).collect();
        let right = texts.iter().any(|text| expected.contains(text));
        let entry = by.entry(row[2].to_owned()).or_default();
        entry.0 += 1;
        entry.1 += u32::from(right);
        entry.2 += u32::from(!right && !texts.is_empty());
        if verbose {
            println!(
                "{} {right} {} {time:?} {}",
                &row[0],
                seen.attempts,
                if right { String::new() } else { format!("{texts:?} / {expected:?}") }
            );
        }
    }
    let mut total = (0, 0, 0);
    for (category, (all, right, wrong)) in &by {
        println!("{category:24} {right:4} of {all:4} read, {wrong} wrong");
        total = (total.0 + all, total.1 + right, total.2 + wrong);
    }
    times.sort();
    println!(
        "all {} of {} ({:.1} %), {} wrong",
        total.1,
        total.0,
        100.0 * f64::from(total.1) / f64::from(total.0),
        total.2
    );
    println!(
        "median {:?}, nine tenths {:?}, most {:?}",
        times[times.len() / 2],
        times[times.len() * 9 / 10],
        times.last()
    );
}
