//! A visit of any answers: everything that follows is worked out without a stop, and no number shown is none.
//!
//! Each line is one answer: a letter for the question, a letter for the piece of evidence, a letter for its row,
//! then the text. A line `+` with a letter adds a piece.
#![no_main]

use domain::visit::{Draft, Instrument, Key, Moment, PieceId, PieceKind, Spot, Timing, assess};
use libfuzzer_sys::fuzz_target;

const ROW: &str = include_str!("../seeds/register/row");
const BEGUN: i64 = 1_790_000_000_000;

const KINDS: [PieceKind; 5] =
    [PieceKind::KnownEmpty, PieceKind::Dip, PieceKind::Drop, PieceKind::Riser, PieceKind::Vented];

/// A letter's place in the alphabet that starts at `A`, which goes on behind `Z` with what ASCII has there.
fn place(letter: char) -> u32 {
    u32::from(letter).saturating_sub(u32::from('A'))
}

fn answer(draft: &mut Draft, at: i64, line: &str) {
    let mut letters = line.chars();
    let (Some(first), Some(second)) = (letters.next(), letters.next()) else { return };
    if first == '+' {
        let kind = KINDS[place(second) as usize % KINDS.len()];
        let timing =
            if place(second) as usize / KINDS.len() % 2 == 0 { Timing::Before } else { Timing::After };
        draft.add_piece(kind, timing);
        return;
    }
    let key = Key::ALL[place(first) as usize % Key::ALL.len()];
    let row = letters.next().map_or(0, place) % 8;
    let spot = Spot { piece: PieceId(place(second) % 6), key, row };
    draft.answers.put(spot, letters.as_str().to_owned(), Moment(BEGUN + at * 30_000));
}

fuzz_target!(|text: &str| {
    let row: Instrument = serde_json::from_str(ROW).expect("the good row is a row");
    let mut draft = Draft::begin(row, Moment(BEGUN));
    for (at, line) in (0..).zip(text.lines().take(100)) {
        answer(&mut draft, at, line);
    }
    let assessment = assess(&draft).expect("the row is good");
    let working = assessment.working(&draft);
    assert!(!format!("{working:?}").contains("NaN"));
    if let Ok(finished) = assessment.finish(&draft) {
        assert!(!finished.results.is_empty());
    }
});
