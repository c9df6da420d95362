//! Time of the processor, of this program and of the server that works for it: what a second a core means does not hang on
//! what else the machine does.

use std::path::Path;

/// Ticks a second, as Linux shows them everywhere we run.
const TICKS: f64 = 100.0;

/// Returns the seconds of the processor used so far.
pub(crate) fn seconds(kind: &str) -> f64 {
    let own = ticks(Path::new("/proc/self/stat")).map_or(0.0, |(_, ticks)| ticks);
    let server = if kind == "postgres" { server() } else { 0.0 };
    (own + server) / TICKS
}

/// What all processes of the server have used, those of our connections among them.
fn server() -> f64 {
    let data = std::env::var("HEADMARK_TEST_POSTGRES_DATA").unwrap();
    let pid = std::fs::read_to_string(Path::new(&data).join("postmaster.pid")).unwrap();
    let postmaster: u64 = pid.lines().next().unwrap().trim().parse().unwrap();
    let processes = std::fs::read_dir("/proc").unwrap().filter_map(Result::ok);
    let used = processes.filter_map(|process| ticks(&process.path().join("stat")));
    used.filter(|(parent, _)| *parent == postmaster).map(|(_, ticks)| ticks).sum()
}

/// Reads the parent and the ticks of a process. The name before them stands in brackets and may hold anything.
fn ticks(stat: &Path) -> Option<(u64, f64)> {
    let text = std::fs::read_to_string(stat).ok()?;
    let fields: Vec<&str> = text.rsplit_once(')')?.1.split_whitespace().collect();
    let number = |at: usize| fields.get(at)?.parse::<f64>().ok();
    Some((fields.get(1)?.parse().ok()?, number(11)? + number(12)?))
}
