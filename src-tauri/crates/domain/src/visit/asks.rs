//! What each step asks, given what has been answered so far.

use super::five::{self, When};
use super::left::cleared;
use super::recorded::on_record;
use super::{
    Choice, Draft, Key, Mounted, Piece, PieceKind, Spot, Step, fitted, other, overflow, series, tape, vented,
};
use crate::quantity::ReadingUnit;

/// One of the things that may be chosen.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Opt {
    /// The text kept as the answer.
    pub value: String,
    /// The choice it stands for; none for data such as a tape.
    pub choice: Option<Choice>,
    /// What it says where it is data.
    pub label: String,
}

impl Opt {
    fn of(choice: Choice) -> Opt {
        Opt { value: choice.word().into(), choice: Some(choice), label: String::new() }
    }

    pub(super) fn data(value: &str, label: String) -> Opt {
        Opt { value: value.into(), choice: None, label }
    }
}

/// What an answer is made of.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Takes {
    /// A length as people write it.
    Length,
    /// A reading in the display's unit.
    Reading,
    /// A current in mA.
    Current,
    /// A plain number in a unit.
    Number(&'static str),
    /// A temperature.
    Temperature,
    /// A number in the unit of a pressure source.
    Applied(ReadingUnit),
    /// How sure a pressure is: a pressure with its unit, or a percentage of the span.
    Uncertainty,
    /// A pressure with its unit.
    Pressure,
    /// Words, with texts that can be put in by one touch.
    Text(Vec<Opt>),
    /// One of a few.
    Choice(Vec<Opt>),
}

/// One thing asked.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ask {
    /// Where the answer stands.
    pub spot: Spot,
    /// What it is made of.
    pub takes: Takes,
    /// True when the step cannot be left without it.
    pub required: bool,
    /// The label where it is data (a safety item); empty otherwise.
    pub label: String,
}

impl Ask {
    fn new(spot: Spot, takes: Takes, required: bool) -> Ask {
        Ask { spot, takes, required, label: String::new() }
    }

    pub(super) fn must(spot: Spot, takes: Takes) -> Ask {
        Ask::new(spot, takes, true)
    }

    pub(super) fn may(spot: Spot, takes: Takes) -> Ask {
        Ask::new(spot, takes, false)
    }

    pub(super) fn called(mut self, label: &str) -> Ask {
        label.clone_into(&mut self.label);
        self
    }
}

/// Returns a choice of a few.
pub(super) fn one_of(choices: &[Choice]) -> Takes {
    Takes::Choice(choices.iter().copied().map(Opt::of).collect())
}

fn words() -> Takes {
    Takes::Text(Vec::new())
}

/// Returns what a step asks, evidence pieces aside.
#[must_use]
pub fn asks(draft: &Draft, step: Step) -> Vec<Ask> {
    match step {
        Step::Find => find(draft),
        Step::MakeSafe => make_safe(draft),
        Step::AsFound => as_found(draft),
        Step::Evidence => vec![Ask::may(Spot::of(Key::Crew), one_of(&[Choice::Alone, Choice::TwoOrMore]))],
        Step::Shift => shift(draft),
        Step::AsLeft => as_left(draft),
        Step::BackInService => back(draft),
        Step::Sign => vec![Ask::may(Spot::of(Key::Note), words())],
    }
}

fn find(draft: &Draft) -> Vec<Ask> {
    let serial = &draft.instrument.serial;
    let same = vec![Opt::data(serial, format!("{serial}, as in the register"))];
    let mut asked = vec![
        Ask::must(Spot::of(Key::TagMatches), one_of(&[Choice::Yes, Choice::No])),
        Ask::must(Spot::of(Key::SerialRead), Takes::Text(same)),
    ];
    asked.extend(fitted::asks(draft));
    let range = one_of(&[Choice::Yes, Choice::No, Choice::NotLegible]);
    asked.push(Ask::must(Spot::of(Key::RangeMatches), range));
    asked
}

/// Asks for each line of a list whether it is done, and why where it is not.
fn list(draft: &Draft, lines: &[String], item: Key, reason: Key, choices: &[Choice]) -> Vec<Ask> {
    let mut asked = Vec::new();
    for (row, line) in (0u32..).zip(lines) {
        let spot = Spot::row(item, row);
        asked.push(Ask::must(spot, one_of(choices)).called(line));
        if draft.answers.choice(spot).is_some_and(|choice| choice != Choice::Done) {
            asked.push(Ask::must(Spot::row(reason, row), words()));
        }
    }
    asked
}

fn make_safe(draft: &Draft) -> Vec<Ask> {
    let choices = [Choice::Done, Choice::DoesNotApply];
    let mut asked = list(draft, &draft.instrument.safety, Key::SafetyItem, Key::SafetyReason, &choices);
    asked.push(Ask::must(Spot::of(Key::ControlRoomTold), words()));
    asked.push(Ask::may(Spot::of(Key::InhibitMinutes), Takes::Number("min")));
    asked
}

fn as_found(draft: &Draft) -> Vec<Ask> {
    let known = [
        Choice::OffsetReadToday,
        Choice::OffsetClearedToday,
        Choice::OffsetFromRecord,
        Choice::OffsetUnknown,
    ];
    let places = [
        Choice::HeadInOffset,
        Choice::HeadInRange,
        Choice::HeadInControlRoom,
        Choice::HeadNowhere,
        Choice::HeadTwice,
        Choice::HeadNotSettled,
    ];
    let mut asked = vec![
        Ask::must(Spot::of(Key::Display), Takes::Reading),
        Ask::may(Spot::of(Key::LoopCurrent), Takes::Current),
        Ask::may(Spot::of(Key::ControlRoom), Takes::Length),
        Ask::must(Spot::of(Key::OffsetKnown), one_of(&known)),
    ];
    match draft.answers.choice(Spot::of(Key::OffsetKnown)) {
        Some(Choice::OffsetReadToday) => asked.push(Ask::must(Spot::of(Key::OffsetValue), Takes::Reading)),
        Some(Choice::OffsetClearedToday) => {
            asked.push(Ask::must(Spot::of(Key::OffsetValue), Takes::Reading));
            asked.push(Ask::must(Spot::of(Key::DisplayCleared), Takes::Reading));
        }
        Some(Choice::OffsetFromRecord) if on_record(draft).is_none() => {
            asked.push(Ask::must(Spot::of(Key::OffsetValue), Takes::Reading));
        }
        _ => {}
    }
    asked.push(Ask::must(Spot::of(Key::StandingHeadAt), one_of(&places)));
    let mounted = draft.instrument.mounting.as_ref();
    if mounted.is_none_or(Mounted::line) {
        let bled = [Choice::BledClear, Choice::BledNotPossible];
        asked.push(Ask::must(Spot::of(Key::LineBled), one_of(&bled)));
    }
    if draft.answers.choice(Spot::of(Key::LineBled)) == Some(Choice::BledClear) {
        asked.push(Ask::may(Spot::of(Key::DisplayAfterBleed), Takes::Reading));
    }
    asked.extend(series::asks(draft));
    if !mounted.is_some_and(Mounted::closed) {
        let vent = [Choice::VentClear, Choice::VentBlocked, Choice::VentNotSeen];
        asked.push(Ask::must(Spot::of(Key::VentLooked), one_of(&vent)));
    }
    asked.push(Ask::may(Spot::of(Key::Damping), Takes::Number("s")));
    asked.push(Ask::may(Spot::of(Key::LiquidTemperature), Takes::Temperature));
    asked.extend(mounted.into_iter().flat_map(of_mounting));
    asked.extend(five::asks(draft, When::Found));
    asked
}

/// What else the columns rest on, where the register says that it may differ.
fn of_mounting(mounted: &Mounted) -> Vec<Ask> {
    let mut asked = Vec::new();
    if mounted.line() && !mounted.line_temperature.trim().is_empty() {
        asked.push(Ask::may(Spot::of(Key::RiserTemperature), Takes::Temperature));
    }
    if mounted.filled() {
        asked.push(Ask::may(Spot::of(Key::FillTemperature), Takes::Temperature));
    }
    if mounted.gas() {
        let states = [Choice::VesselWorking, Choice::VesselCold];
        asked.push(Ask::may(Spot::of(Key::VesselToday), one_of(&states)));
    }
    asked
}

/// Returns what a piece of evidence asks.
#[must_use]
pub fn piece_asks(draft: &Draft, piece: &Piece) -> Vec<Ask> {
    let at = |key| Spot::piece(piece.id, key, 0);
    match piece.kind {
        PieceKind::KnownEmpty => {
            let seen = [Choice::SillSeen, Choice::EmptyBySteadyReading, Choice::EmptyByReport];
            vec![
                Ask::must(at(Key::EmptySeen), one_of(&seen)),
                Ask::may(at(Key::ReadingBefore), Takes::Reading),
            ]
        }
        PieceKind::Dip | PieceKind::Drop => dips(draft, piece),
        PieceKind::Riser => {
            let how = [Choice::ByTape, Choice::ByLaser, Choice::ByDrawing];
            let height = Ask::must(at(Key::RiserHeight), Takes::Length);
            let seals = draft.instrument.mounting.as_ref().is_some_and(Mounted::between_seals);
            let height = if seals { height.called("Height from seal to seal") } else { height };
            vec![height, Ask::must(at(Key::RiserHow), one_of(&how))]
        }
        PieceKind::EarlierVisit => {
            vec![Ask::must(at(Key::EarlierSame), one_of(&[Choice::Yes, Choice::No]))]
        }
        PieceKind::Vented => vented::asks(draft, piece),
        PieceKind::Overflow => overflow::asks(draft, piece),
        PieceKind::OtherInstrument => other::asks(draft, piece),
    }
}

/// Dips may be repeated without end: one empty row always follows the last one filled.
fn dips(draft: &Draft, piece: &Piece) -> Vec<Ask> {
    let at = |key, row| Spot::piece(piece.id, key, row);
    let filled = |row: &u32| draft.answers.get(at(Key::Dip, *row)).is_some();
    let rows = (0..MOST_DIPS).filter(filled).max().map_or(0, |last| last + 1);
    let mut asked = vec![Ask::may(at(Key::ReadingBefore, 0), Takes::Reading)];
    for row in 0..(rows + 1).min(MOST_DIPS) {
        asked.push(Ask::new(at(Key::Dip, row), Takes::Length, row == 0));
        if row < rows && rows > 1 {
            asked.push(Ask::may(at(Key::DipSetAside, row), words()));
        }
    }
    asked.push(Ask::may(at(Key::ReadingAfter, 0), Takes::Reading));
    let tapes = draft.instrument.tapes.iter();
    let tapes = tapes.map(|tape| Opt::data(&tape.id, tape_label(&tape.id, &tape.due))).collect();
    asked.push(Ask::may(at(Key::TapeUsed, 0), Takes::Text(tapes)));
    asked.extend(tape::asks(draft, piece));
    asked
}

/// No site asks for more repeats of one dip.
pub(super) const MOST_DIPS: u32 = 20;

fn tape_label(id: &str, due: &str) -> String {
    if due.is_empty() { id.to_owned() } else { format!("{id}, check due {due}") }
}

fn shift(draft: &Draft) -> Vec<Ask> {
    let mut asked = vec![Ask::must(Spot::of(Key::Decision), one_of(&[Choice::Trim, Choice::Leave]))];
    if draft.instrument.trim_rule.trim().is_empty() {
        let rules = one_of(&[Choice::TrueAtZero, Choice::TrueAtReference]);
        asked.insert(0, Ask::must(Spot::of(Key::TrimRule), rules));
    }
    asked
}

fn as_left(draft: &Draft) -> Vec<Ask> {
    let decision = draft.answers.choice(Spot::of(Key::Decision));
    let result = match decision {
        Some(Choice::Trim) => one_of(&[Choice::TrimTook, Choice::PutBack]),
        // A cleared offset may not be left like that.
        Some(Choice::Leave) if cleared(draft) => one_of(&[Choice::PutBack]),
        _ => return Vec::new(),
    };
    let mut asked = vec![
        Ask::must(Spot::of(Key::TrimResult), result),
        Ask::must(Spot::of(Key::DisplayLeft), Takes::Reading),
        Ask::may(Spot::of(Key::CurrentLeft), Takes::Current),
        Ask::may(Spot::of(Key::ControlRoomLeft), Takes::Length),
    ];
    asked.extend(five::asks(draft, When::Left));
    asked
}

fn back(draft: &Draft) -> Vec<Ask> {
    let choices = [Choice::Done, Choice::NotDone];
    list(draft, &draft.instrument.back, Key::BackItem, Key::BackReason, &choices)
}
