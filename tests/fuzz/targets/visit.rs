//! A visit of any answers: everything that follows is worked out without a stop, and no number shown is none.
//!
//! Each line is one answer: the number of what is asked, of the piece of evidence and of the row, then the text. A line
//! `+` with a number adds a piece of evidence: an even number before the trim, an odd one after it. A line `=` with a
//! number of minutes lets time pass, as a break does.
#![no_main]

use domain::visit::{Draft, Instrument, Key, Moment, PieceId, PieceKind, Spot, Timing, assess};
use libfuzzer_sys::fuzz_target;

const ROW: &str = include_str!("../seeds/register/row");
const BEGUN: i64 = 1_790_000_000_000;
const MINUTE: i64 = 60_000;

/// Takes a number of small digits off the front of a line.
fn number(line: &str) -> (usize, &str) {
    let end = line.find(|sign: char| !sign.is_ascii_digit()).unwrap_or(line.len());
    let rest = line[end..].strip_prefix(' ').unwrap_or(&line[end..]);
    (line[..end].parse().unwrap_or_default(), rest)
}

/// What is asked, by the number that records know it by; every other number is some question too.
fn key(number: usize) -> Key {
    let known = u16::try_from(number).ok().and_then(Key::from_code);
    known.unwrap_or_else(|| Key::ALL[number % Key::ALL.len()])
}

fn add(draft: &mut Draft, which: usize) {
    let kind = PieceKind::ALL[which / 2 % PieceKind::ALL.len()];
    draft.add_piece(kind, if which % 2 == 0 { Timing::Before } else { Timing::After });
}

fn answer(draft: &mut Draft, at: i64, line: &str) {
    let (asked, rest) = number(line);
    let (piece, rest) = number(rest);
    let (row, text) = number(rest);
    let piece = PieceId(u32::try_from(piece % 10).unwrap_or_default());
    // Reasons, safety items before a break and points of a check stand in rows of their own.
    let row = u32::try_from(row % 3000).unwrap_or_default();
    draft.answers.put(Spot { piece, key: key(asked), row }, text.to_owned(), Moment(at));
}

fuzz_target!(|text: &str| {
    let row: Instrument = serde_json::from_str(ROW).expect("the good row is a row");
    let mut draft = Draft::begin(row, Moment(BEGUN));
    let mut now = BEGUN;
    for line in text.lines().take(100) {
        let saved = now;
        now += MINUTE / 2;
        if let Some(which) = line.strip_prefix('+') {
            add(&mut draft, number(which).0);
        } else if let Some(minutes) = line.strip_prefix('=') {
            now += i64::try_from(number(minutes).0 % 10_000).unwrap_or_default() * MINUTE;
            draft.take_up(Moment(saved), Moment(now));
        } else {
            answer(&mut draft, now, line);
        }
    }
    let assessment = assess(&draft).expect("the row is good");
    let working = assessment.working(&draft);
    assert!(!format!("{working:?}").contains("NaN"));
    let next = assessment.next_best(&draft);
    assert!(!format!("{next:?}").contains("NaN"));
    if let Ok(finished) = assessment.finish(&draft) {
        assert!(!finished.results.is_empty());
    }
});
