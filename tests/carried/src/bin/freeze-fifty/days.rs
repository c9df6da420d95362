//! A day at one of the invented instruments: what was found, measured and done, with that day's numbers.

use anyhow::Result;
use carried::Chance;
use domain::visit::{Choice, Key, PieceId, PieceKind, Spot, Step, Timing};
use kit::{Act, Part, Story};

use crate::numbers::{about, feet, hundredths, tenths};

const TOLD: [&str; 6] = [
    "Duty desk, Marrowby",
    "Marrowby control, R. Osei",
    "Control room (Ilse)",
    "Duty desk, night shift",
    "Marrowby control room, by radio",
    "Tarn Lane shift lead",
];
const NOTES: [&str; 8] = [
    "Quiet day, no wind",
    "Wind from the west, ladder cage iced at the top",
    "Hatch gasket worn, new one ordered",
    "Pump 2 off for the dip, back on at once",
    "Surface ruffled by the inlet until it was shut",
    "Second person Ben Aldous at the hatch throughout",
    "Vent screen brushed clean, some grit in the drain",
    "Display cover screw missing, replaced",
];
const WHY: [&str; 4] = [
    "tape caught on the ladder",
    "bob swung, read too late",
    "wave from the inlet",
    "misread by an inch, taken again at once",
];

/// Draws a day.
pub(crate) fn any(chance: &mut Chance) -> Result<Story> {
    match chance.below(10) {
        0..=2 => sedge_hill_dipped(chance),
        3 => sedge_hill_cleared(chance),
        4 | 5 => cold_ash_dipped(chance),
        6 => cold_ash_empty(chance),
        7 => cold_ash_vented(chance),
        8 => by_pressure(chance, &WASH_WATER),
        _ => by_pressure(chance, &BRINE),
    }
}

/// Dips through the hatch at Sedge Hill, in feet.
fn sedge_hill_dipped(chance: &mut Chance) -> Result<Story> {
    let quarters = chance.between(9 * 48, 24 * 48);
    let level = i64::try_from(quarters)? * 100 / 48;
    let display = hundredths(level + about(chance, 12, 25));
    let tape = *chance.one_of(&["Tape M-14", "Tape M-14", "Tape M-09"])?;
    let mut dips = Vec::new();
    for _ in 0..chance.between(3, 5) {
        dips.push(feet(quarters + chance.below(2)));
    }
    let evidence = dipped(chance, &display, &dips, &feet(quarters + 30), tape)?;
    let offset = hundredths(about(chance, -3110, 12));
    let found = found(chance, &display, &offset, Choice::HeadInOffset)?;
    story(
        chance,
        "LT-2041",
        "https://id.marrowby.example/i/LT-2041",
        "MW-50-11873",
        found,
        evidence,
        &hundredths(level),
    )
}

/// Nobody knows the level at Sedge Hill: the offset is cleared and the riser measured.
fn sedge_hill_cleared(chance: &mut Chance) -> Result<Story> {
    let level = about(chance, 1450, 500);
    let riser = chance.between(31 * 48 + 10, 31 * 48 + 20);
    let mut found = found(chance, &hundredths(level), "-31.10", Choice::HeadInOffset)?;
    let cleared = Act::pads(Key::DisplayCleared, &hundredths(level + 3110));
    found.iter_mut().for_each(|act| {
        if *act == Act::chooses(Key::OffsetKnown, Choice::OffsetReadToday) {
            *act = Act::chooses(Key::OffsetKnown, Choice::OffsetClearedToday);
        }
    });
    found.insert(3, cleared);
    let evidence = riser_measured(1, &feet(riser));
    let left = hundredths(level + 3110 - i64::try_from(riser)? * 100 / 48);
    story(chance, "LT-2041", "https://id.marrowby.example/i/LT-2041", "MW-50-11873", found, evidence, &left)
}

/// Dips through the hatch at Cold Ash, in millimetres.
fn cold_ash_dipped(chance: &mut Chance) -> Result<Story> {
    let level = about(chance, 4500, 2500);
    let display = hundredths(level / 10 + about(chance, 2, 5));
    let mut dips = Vec::new();
    for _ in 0..chance.between(3, 6) {
        dips.push(format!("{} mm", about(chance, level, 2)));
    }
    let evidence = dipped(chance, &display, &dips, &format!("{} mm", level + 190), "Tape M-14")?;
    let offset = hundredths(about(chance, -1460, 3));
    let found = found(chance, &display, &offset, Choice::HeadInOffset)?;
    story(
        chance,
        "LT-3107",
        "https://id.marrowby.example/i/LT-3107",
        "MW-30-20455",
        found,
        evidence,
        &hundredths((level + 5) / 10),
    )
}

/// Cold Ash, empty to its outlet sill, which stands at 60 mm.
fn cold_ash_empty(chance: &mut Chance) -> Result<Story> {
    let seen = Spot::piece(PieceId(1), Key::EmptySeen, 0);
    let evidence =
        vec![Act::Adds(PieceKind::KnownEmpty, Timing::Before), Act::Chooses(seen, Choice::SillSeen)];
    let display = hundredths(6 + about(chance, 4, 4));
    let found = found(chance, &display, "-14.60", Choice::HeadInOffset)?;
    story(chance, "LT-3107", "https://id.marrowby.example/i/LT-3107", "MW-30-20455", found, evidence, "0.06")
}

/// Cold Ash, both sides opened to the air and the riser measured.
fn cold_ash_vented(chance: &mut Chance) -> Result<Story> {
    let vented = |key| Spot::piece(PieceId(1), key, 0);
    let (zero, display) = (about(chance, 3, 3), about(chance, 500, 150));
    let mut evidence = vec![
        Act::Adds(PieceKind::Vented, Timing::Before),
        Act::Chooses(vented(Key::VentAllowed), Choice::Yes),
        Act::Pads(vented(Key::VentedReading), hundredths(-1460 + zero)),
    ];
    evidence.extend(riser_measured(2, &format!("{} m", hundredths(about(chance, 1462, 1)))));
    let found = found(chance, &hundredths(display), "-14.60", Choice::HeadInOffset)?;
    let left = hundredths(display - zero - 2);
    story(chance, "LT-3107", "https://id.marrowby.example/i/LT-3107", "MW-30-20455", found, evidence, &left)
}

/// A tank whose display shows what presses, in millibar.
struct Pressing {
    tag: &'static str,
    code: &'static str,
    serial: &'static str,
    /// Tenths of a millibar at level nought, and a metre of it presses.
    zero: i64,
    metre: i64,
    /// The usual level, in millimetres.
    level: i64,
}

/// By the register: -83.2 mbar at nought, 328 mbar at 4.20 m.
const WASH_WATER: Pressing = Pressing {
    tag: "LT-4012",
    code: "TL WASH 4012",
    serial: "MW-07-31920",
    zero: -832,
    metre: 979,
    level: 2300,
};
/// By the register: 103.2 mbar at nought, 450.3 mbar at 3.00 m.
const BRINE: Pressing =
    Pressing { tag: "LT-4020", code: "", serial: "MW-07-31988", zero: 1032, metre: 1157, level: 1700 };

fn by_pressure(chance: &mut Chance, tank: &Pressing) -> Result<Story> {
    let level = about(chance, tank.level, 900);
    let at = |level: i64| tank.zero + tank.metre * level / 1000;
    let display = tenths(at(level) + about(chance, 12, 30));
    let mut dips = Vec::new();
    for _ in 0..chance.between(3, 4) {
        dips.push(format!("{} mm", about(chance, level, 2)));
    }
    let evidence = dipped(chance, &display, &dips, &format!("{} mm", level + 120), "Tape M-14")?;
    let found = found(chance, &display, "0", Choice::HeadInRange)?;
    story(chance, tank.tag, tank.code, tank.serial, found, evidence, &tenths(at(level)))
}

/// Dips, one time in three with one among them that is set aside, with the reason.
fn dipped(chance: &mut Chance, display: &str, dips: &[String], off: &str, tape: &str) -> Result<Vec<Act>> {
    let at = |key, row| Spot::piece(PieceId(1), key, row);
    let mut acts = vec![
        Act::Adds(PieceKind::Dip, Timing::Before),
        Act::Pads(at(Key::ReadingBefore, 0), display.to_owned()),
    ];
    let rejected = (chance.below(3) == 0).then(|| chance.between(1, 2));
    for (row, dip) in (0..).zip(dips) {
        let aside = rejected == Some(u64::from(row));
        let text = if aside { off } else { dip };
        acts.push(Act::Pads(at(Key::Dip, row), text.to_owned()));
        if aside {
            acts.push(Act::Writes(at(Key::DipSetAside, row), (*chance.one_of(&WHY)?).to_owned()));
        }
    }
    acts.push(Act::Pads(at(Key::ReadingAfter, 0), display.to_owned()));
    acts.push(Act::Writes(at(Key::TapeUsed, 0), tape.to_owned()));
    Ok(acts)
}

fn riser_measured(piece: u32, height: &str) -> Vec<Act> {
    let at = |key| Spot::piece(PieceId(piece), key, 0);
    vec![
        Act::Adds(PieceKind::Riser, Timing::Before),
        Act::Pads(at(Key::RiserHeight), height.to_owned()),
        Act::Chooses(at(Key::RiserHow), Choice::ByTape),
    ]
}

fn found(chance: &mut Chance, display: &str, offset: &str, head: Choice) -> Result<Vec<Act>> {
    let mut acts = vec![
        Act::pads(Key::Display, display),
        Act::chooses(Key::OffsetKnown, Choice::OffsetReadToday),
        Act::pads(Key::OffsetValue, offset),
        Act::chooses(Key::StandingHeadAt, head),
        Act::chooses(Key::LineBled, Choice::BledClear),
        Act::chooses(Key::VentLooked, Choice::VentClear),
    ];
    if chance.below(3) == 0 {
        acts.push(Act::pads(Key::LiquidTemperature, &format!("{} degC", tenths(about(chance, 110, 30)))));
    }
    if chance.below(4) == 0 {
        acts.push(Act::pads(Key::Damping, chance.one_of(&["2", "4", "8"])?));
    }
    Ok(acts)
}

fn story(
    chance: &mut Chance,
    tag: &str,
    code: &str,
    serial: &str,
    found: Vec<Act>,
    evidence: Vec<Act>,
    left: &str,
) -> Result<Story> {
    let done = |key, rows| (0..rows).map(move |row| Act::Chooses(Spot::row(key, row), Choice::Done));
    let mut safe: Vec<Act> = done(Key::SafetyItem, rows_of(tag)?).collect();
    safe.push(Act::writes(Key::ControlRoomTold, chance.one_of(&TOLD)?));
    safe.push(Act::pads(Key::InhibitMinutes, chance.one_of(&["45", "60", "90", "120"])?));
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
        (
            Step::AsLeft,
            vec![Act::chooses(Key::TrimResult, Choice::TrimTook), Act::pads(Key::DisplayLeft, left)],
        ),
        (Step::BackInService, done(Key::BackItem, 4).collect()),
        (Step::Sign, vec![Act::writes(Key::Note, chance.one_of(&NOTES)?)]),
    ];
    let parts = parts.into_iter().map(|(step, acts)| Part { step, acts }).collect();
    Ok(Story { tag: tag.to_owned(), code: code.to_owned(), parts, shift: [0.0; 3], verdict: String::new() })
}

/// How many items the safety list of an instrument has: the general ones, and its own.
fn rows_of(tag: &str) -> Result<u32> {
    let rows = domain::visit::safety::items(&kit::instrument(tag)?).len();
    Ok(u32::try_from(rows)?)
}
