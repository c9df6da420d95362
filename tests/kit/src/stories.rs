//! Four visits at the invented towers, one for each reference. The numbers of each are worked out beside it; one
//! unit of reading is one unit of liquid at both towers, so that they follow by adding and taking away.

use domain::visit::{Choice, Key, PieceId, PieceKind, Spot, Step, Timing};

use crate::{Act, Part, Story};

/// Sedge Hill, a dip through the hatch, and another after the level was drawn down.
///
/// The tape says 14 ft 3 1/2 in, that is 14.2917 ft; the display says 14.53 ft. So it shows 0.2383 ft too much:
/// the trim leads from 14.53 to 14.29, by -0.24. Later the tape says 13 ft 2 in, that is 13.1667 ft, and the display
/// 13.17: a second level, which proves the trim.
#[must_use]
pub fn dip() -> Story {
    let piece = |key, row, text: &str| Act::Pads(Spot::piece(PieceId(1), key, row), text.to_owned());
    let evidence = vec![
        Act::Adds(PieceKind::Dip, Timing::Before),
        piece(Key::ReadingBefore, 0, "14.53"),
        piece(Key::Dip, 0, "14' 3 1/2\""),
        piece(Key::Dip, 1, "14' 3 1/2\""),
        piece(Key::Dip, 2, "14' 3 1/2\""),
        piece(Key::ReadingAfter, 0, "14.53"),
        Act::Writes(Spot::piece(PieceId(1), Key::TapeUsed, 0), "Tape M-14".to_owned()),
    ];
    let found = as_found("14.53", Choice::OffsetReadToday, &[(Key::OffsetValue, "-31.10")]);
    let proof = |key, row, text: &str| Act::Pads(Spot::piece(PieceId(2), key, row), text.to_owned());
    let mut left = as_left("14.29");
    left.extend([
        Act::Adds(PieceKind::Dip, Timing::After),
        proof(Key::ReadingBefore, 0, "13.17"),
        proof(Key::Dip, 0, "13' 2\""),
        proof(Key::Dip, 1, "13' 2\""),
        proof(Key::ReadingAfter, 0, "13.17"),
        Act::Writes(Spot::piece(PieceId(2), Key::TapeUsed, 0), "Tape M-14".to_owned()),
    ]);
    Story {
        tag: "LT-2041".to_owned(),
        code: "https://id.marrowby.example/i/LT-2041".to_owned(),
        parts: whole("MW-50-11873", 8, found, evidence, left),
        shift: [14.53, 14.29, -0.24],
        verdict: "within".to_owned(),
    }
}

/// Cold Ash, the tank empty to its outlet sill.
///
/// The sill stands 60 mm above the tank's zero and was seen dry at its edge; the display says 0.11 m. So the trim
/// leads from 0.11 to 0.06, by -0.05.
#[must_use]
pub fn known_empty() -> Story {
    let seen = Spot::piece(PieceId(1), Key::EmptySeen, 0);
    let evidence =
        vec![Act::Adds(PieceKind::KnownEmpty, Timing::Before), Act::Chooses(seen, Choice::SillSeen)];
    let found = as_found("0.11", Choice::OffsetReadToday, &[(Key::OffsetValue, "-14.60")]);
    Story {
        tag: "LT-3107".to_owned(),
        code: "https://id.marrowby.example/i/LT-3107".to_owned(),
        parts: whole("MW-30-20455", 8, found, evidence, as_left("0.06")),
        shift: [0.11, 0.06, -0.05],
        verdict: "trimmed_not_proved".to_owned(),
    }
}

impl Story {
    /// The empty tank at Cold Ash again, where another unit hangs than the register knows: its own serial number and limits.
    #[must_use]
    pub fn another_unit() -> Story {
        let mut story = known_empty();
        let plate = vec![
            Act::chooses(Key::TagMatches, Choice::Yes),
            Act::writes(Key::SerialRead, "MW-30-77001"),
            Act::chooses(Key::UnitFitted, Choice::Yes),
            Act::writes(Key::UnitLrl, "-1 bar"),
            Act::writes(Key::UnitUrl, "2.5 bar"),
            Act::writes(Key::UnitMaxWorking, "6 bar"),
            Act::chooses(Key::RangeMatches, Choice::Yes),
        ];
        for part in story.parts.iter_mut().filter(|part| part.step == Step::Find) {
            part.acts.clone_from(&plate);
        }
        story
    }
}

/// Sedge Hill, the level unknown, the offset cleared and the riser measured.
///
/// The riser is 31 ft 4 in, that is 31.3333 ft; with its offset of -31.10 cleared the display says 45.60. So the
/// trim leads from 45.60 to 14.27, by -31.33. Nothing proves it: the sensor's own zero error is still in.
#[must_use]
pub fn cleared_riser() -> Story {
    let how = Spot::piece(PieceId(1), Key::RiserHow, 0);
    let height = Spot::piece(PieceId(1), Key::RiserHeight, 0);
    let evidence = vec![
        Act::Adds(PieceKind::Riser, Timing::Before),
        Act::Pads(height, "31' 4\"".to_owned()),
        Act::Chooses(how, Choice::ByTape),
    ];
    let cleared = [(Key::OffsetValue, "-31.10"), (Key::DisplayCleared, "45.60")];
    let found = as_found("14.50", Choice::OffsetClearedToday, &cleared);
    Story {
        tag: "LT-2041".to_owned(),
        code: "https://id.marrowby.example/i/LT-2041".to_owned(),
        parts: whole("MW-50-11873", 8, found, evidence, as_left("14.27")),
        shift: [45.60, 14.27, -31.33],
        verdict: "trimmed_not_proved".to_owned(),
    }
}

/// Cold Ash, both sides opened to the air and the riser measured.
///
/// With both sides at atmosphere and an offset of -14.60 the display says -14.57: the sensor's zero is 0.03 m
/// too high. The riser is 14.62 m. So the offset must take out 14.65, which is 0.05 more than it does: the
/// display's 5.05 becomes 5.00.
#[must_use]
pub fn vented() -> Story {
    let vented = |key| Spot::piece(PieceId(1), key, 0);
    let riser = |key| Spot::piece(PieceId(2), key, 0);
    let evidence = vec![
        Act::Adds(PieceKind::Vented, Timing::Before),
        Act::Chooses(vented(Key::VentAllowed), Choice::Yes),
        Act::Pads(vented(Key::VentedReading), "-14.57".to_owned()),
        Act::Adds(PieceKind::Riser, Timing::Before),
        Act::Pads(riser(Key::RiserHeight), "14.62 m".to_owned()),
        Act::Chooses(riser(Key::RiserHow), Choice::ByTape),
    ];
    let found = as_found("5.05", Choice::OffsetReadToday, &[(Key::OffsetValue, "-14.60")]);
    Story {
        tag: "LT-3107".to_owned(),
        code: "https://id.marrowby.example/i/LT-3107".to_owned(),
        parts: whole("MW-30-20455", 8, found, evidence, as_left("5.00")),
        shift: [5.05, 5.00, -0.05],
        verdict: "trimmed_not_proved".to_owned(),
    }
}

fn whole(serial: &str, safety: u32, found: Vec<Act>, evidence: Vec<Act>, left: Vec<Act>) -> Vec<Part> {
    let done = |key, rows| (0..rows).map(move |row| Act::Chooses(Spot::row(key, row), Choice::Done));
    let mut safe: Vec<Act> = done(Key::SafetyItem, safety).collect();
    safe.push(Act::writes(Key::ControlRoomTold, "Duty desk, Marrowby"));
    safe.push(Act::pads(Key::InhibitMinutes, "90"));
    let find = vec![
        Act::chooses(Key::TagMatches, Choice::Yes),
        Act::writes(Key::SerialRead, serial),
        Act::chooses(Key::RangeMatches, Choice::Yes),
    ];
    let parts = [
        (Step::Find, find),
        (Step::MakeSafe, safe),
        (Step::AsFound, found),
        (Step::Evidence, evidence),
        (Step::Shift, vec![Act::chooses(Key::Decision, Choice::Trim)]),
        (Step::AsLeft, left),
        (Step::BackInService, done(Key::BackItem, 4).collect()),
        (Step::Sign, vec![Act::writes(Key::Note, "Quiet day, no wind")]),
    ];
    parts.into_iter().map(|(step, acts)| Part { step, acts }).collect()
}

/// Returns what is answered as found: the display, the offset and what goes with it; the rest as usual.
#[must_use]
pub fn as_found(display: &str, offset: Choice, more: &[(Key, &str)]) -> Vec<Act> {
    let mut acts = vec![Act::pads(Key::Display, display), Act::chooses(Key::OffsetKnown, offset)];
    acts.extend(more.iter().map(|(key, text)| Act::pads(*key, text)));
    acts.extend([
        Act::chooses(Key::StandingHeadAt, Choice::HeadInOffset),
        Act::chooses(Key::LineBled, Choice::BledClear),
        Act::chooses(Key::VentLooked, Choice::VentClear),
    ]);
    acts
}

fn as_left(display: &str) -> Vec<Act> {
    vec![Act::chooses(Key::TrimResult, Choice::TrimTook), Act::pads(Key::DisplayLeft, display)]
}
