//! How fast a hub's storage is, on SQLite and on PostgreSQL; fails where a number is not reached.
//!
//! `tests/long hubstore` runs it; `cargo bench -p hubstore` does too, where HEADMARK_TEST_POSTGRES names a server. One
//! line for each measurement, and `result:` in a few words at the end.
#![allow(
    missing_docs,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    clippy::print_stdout,
    clippy::cast_precision_loss,
    reason = "a program that measures: a panic here is the message"
)]

mod intake;
mod made;
mod million;
mod processor;
mod ready;

use std::process::ExitCode;

fn main() -> ExitCode {
    // Cargo runs the targets of benches in tests too, without this word: then there is nothing to measure.
    if !std::env::args().any(|word| word == "--bench") {
        return ExitCode::SUCCESS;
    }
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(2).enable_all().build().unwrap();
    let lines = runtime.block_on(async {
        let mut lines = Vec::new();
        for kind in ["sqlite", "postgres"] {
            lines.extend(intake::measure(&ready::open(kind).await).await);
            lines.extend(million::measure(&ready::open(kind).await).await);
        }
        lines
    });
    let said: Vec<&str> = lines.iter().map(|line| line.said.as_str()).collect();
    println!("result: {}", said.join("; "));
    if lines.iter().all(|line| line.reached) { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}

/// What was measured, in words, and whether it is enough.
struct Line {
    said: String,
    reached: bool,
}

impl Line {
    fn say(said: String, reached: bool) -> Line {
        println!("{said}{}", if reached { "" } else { "   NOT REACHED" });
        Line { said, reached }
    }
}
