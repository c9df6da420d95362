//! What our reader makes of a picture, at each effort.

use std::io::{BufRead, Write};
use std::time::Duration;

use rustix::time::{ClockId, clock_gettime};
use serde_json::{Value, json};
use tagcode::{Effort, Gray, photo, read};

/// The efforts, each with the time that the app gives it: what is stopped then is told.
const EFFORTS: [(&str, Effort, Option<Duration>); 3] = [
    ("frame", Effort::Frame, Some(Duration::from_millis(40))),
    ("photo", Effort::Photo, Some(Duration::from_millis(400))),
    ("full", Effort::Full, None),
];

/// Answers a line for each line that comes in.
pub(crate) fn all() {
    let mut out = std::io::stdout().lock();
    for path in std::io::stdin().lock().lines() {
        let path = path.unwrap();
        let picture = photo::decode(&std::fs::read(&path).unwrap()).unwrap();
        writeln!(out, "{}", of(&picture)).unwrap();
        out.flush().unwrap();
    }
}

/// The processor's time that this program has had: what else the machine does meanwhile is not counted.
fn worked() -> Duration {
    let time = clock_gettime(ClockId::ProcessCPUTime);
    Duration::new(time.tv_sec.unsigned_abs(), u32::try_from(time.tv_nsec).unwrap())
}

fn of(picture: &Gray) -> Value {
    let mut answers = serde_json::Map::new();
    for (name, effort, limit) in EFFORTS {
        let begun = worked();
        let (mut before, mut longest) = (begun, Duration::ZERO);
        let reading = read(picture, effort, &mut || {
            let now = worked();
            longest = longest.max(now - before);
            before = now;
            limit.is_none_or(|limit| now - begun < limit)
        });
        let took = worked() - begun;
        let texts: Vec<&str> = reading.codes.iter().map(|code| code.text.as_str()).collect();
        let answer = json!({
            "texts": texts,
            "ms": took.as_secs_f64() * 1e3,
            "stopped": reading.stopped,
            "longest_ms": longest.max(took - (before - begun)).as_secs_f64() * 1e3,
            "attempts": reading.attempts,
        });
        answers.insert(name.to_owned(), answer);
    }
    Value::Object(answers)
}
