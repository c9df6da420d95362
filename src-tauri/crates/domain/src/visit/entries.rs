//! Every answer of a visit, read.

use std::collections::BTreeMap;

use uom::si::f64::{Length, Pressure};
use uom::si::length::meter;
use uom::si::pressure::pascal;
use uom::si::ratio::percent;
use uom::si::temperature_interval::kelvin;

use super::known::Known;
use super::{
    Ask, Choice, Draft, Entry, Key, PieceId, Remark, Show, Spot, Step, Takes, Today, Value, When, asks, flow,
    piece_asks,
};
use crate::head::Gradient;
use crate::quantity::{
    LengthSystem, ReadingUnit, TemperatureScale, print_decimal, print_length, read_length, read_number,
    read_percent, read_pressure, read_temperature,
};

/// The answers of a visit as read.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Entries(BTreeMap<Spot, Entry>);

impl Entries {
    /// Reads every answer that the visit asks for as a number. The gradient turns readings in lengths of the
    /// liquid into pressures.
    pub(super) fn read(draft: &Draft, known: &Known, liquid: Gradient) -> Entries {
        let mut entries = BTreeMap::new();
        let steps = Step::ALL.into_iter().flat_map(|step| asks(draft, step));
        let pieces = draft.pieces.iter().flat_map(|piece| piece_asks(draft, piece));
        let flow = [When::Found, When::Left].into_iter().flat_map(|when| flow::asks(draft, known, when));
        for ask in steps.chain(pieces).chain(flow) {
            let text = draft.answers.text(ask.spot);
            if !text.trim().is_empty()
                && let Some(entry) = read_one(&ask, text, known, liquid)
            {
                entries.insert(ask.spot, entry);
            }
        }
        Entries(entries)
    }

    /// Returns the entry at a spot.
    #[must_use]
    pub fn at(&self, spot: Spot) -> Option<&Entry> {
        self.0.get(&spot)
    }

    /// Returns all entries.
    pub fn iter(&self) -> impl Iterator<Item = (Spot, &Entry)> {
        self.0.iter().map(|(spot, entry)| (*spot, entry))
    }

    /// Returns the entry of a question that is asked once.
    #[must_use]
    pub fn of(&self, key: Key) -> Option<&Entry> {
        self.at(Spot::of(key))
    }

    /// Returns a reading and what its last digit stands for.
    pub(super) fn reading(&self, spot: Spot) -> Option<(Pressure, Pressure)> {
        let entry = self.at(spot)?;
        match entry.value {
            Some(Value::Reading { pressure, .. }) => {
                Some((pressure, Pressure::new::<pascal>(entry.resolution)))
            }
            _ => None,
        }
    }

    /// Returns a length and what its writing resolves.
    pub(super) fn length(&self, spot: Spot) -> Option<(Length, Length)> {
        let entry = self.at(spot)?;
        match entry.value {
            Some(Value::Length(length)) => Some((length, Length::new::<meter>(entry.resolution))),
            _ => None,
        }
    }

    /// Returns a length of a piece of evidence.
    pub(super) fn piece_length(&self, piece: PieceId, key: Key, row: u32) -> Option<(Length, Length)> {
        self.length(Spot::piece(piece, key, row))
    }

    /// Returns a plain number or a current.
    pub(super) fn number(&self, key: Key) -> Option<f64> {
        match self.of(key)?.value {
            Some(Value::Number(number) | Value::Current(number)) => Some(number),
            _ => None,
        }
    }

    /// Puts a remark on an entry that read well but makes no sense where it stands.
    pub(super) fn object(&mut self, spot: Spot, remark: Remark) {
        if let Some(entry) = self.0.get_mut(&spot) {
            entry.problem = Some(remark);
            entry.value = None;
        }
    }
}

/// Reads what was measured of the vessel's state, before anything else is read: readings in lengths of the liquid
/// depend on it.
pub(super) fn today(draft: &Draft, known: &Known) -> Today {
    let temperature = |key| {
        let text = draft.answers.text(Spot::of(key));
        read_temperature(text, Some(scale(known.people))).ok().map(|entry| entry.value)
    };
    let cold = draft.answers.choice(Spot::of(Key::VesselToday)) == Some(Choice::VesselCold);
    Today {
        liquid: temperature(Key::LiquidTemperature),
        line: temperature(Key::RiserTemperature),
        fill: temperature(Key::FillTemperature),
        at_rest: cold && known.mounted.mounting.is_closed(),
    }
}

fn scale(people: LengthSystem) -> TemperatureScale {
    match people {
        LengthSystem::Feet => TemperatureScale::Fahrenheit,
        LengthSystem::Metres => TemperatureScale::Celsius,
    }
}

fn read_one(ask: &Ask, text: &str, known: &Known, liquid: Gradient) -> Option<Entry> {
    Some(match &ask.takes {
        Takes::Text(_) | Takes::Choice(_) => return None,
        Takes::Length => length(ask, text, known),
        Takes::Reading => reading(text, known, liquid),
        Takes::Applied(unit) => applied(text, *unit, known, liquid),
        Takes::Uncertainty => uncertainty(text, known, liquid),
        Takes::Pressure => pressure(text, known, liquid),
        Takes::Current => current(text),
        Takes::Number(_) => number(ask, text, known),
        Takes::Temperature => match read_temperature(text, Some(scale(known.people))) {
            Ok(entry) => {
                Entry::value(Value::Temperature(entry.value), entry.resolution.get::<kelvin>(), entry.echo())
            }
            Err(problem) => Entry::problem(&problem),
        },
    })
}

/// A level may be negative (below the tank's zero); a dip, a drop and a riser measured today may not: where the
/// transmitter stands above the zero the register says so.
fn length(ask: &Ask, text: &str, known: &Known) -> Entry {
    match read_length(text, known.people) {
        Ok(entry) => {
            let read =
                Entry::value(Value::Length(entry.value), entry.resolution.get::<meter>(), entry.echo());
            let below = entry.value.get::<meter>() < 0.0;
            match ask.spot.key {
                Key::Dip if below => Entry { value: None, ..read }.with_problem(Remark::impossible(
                    "dip.negative",
                    "A dip or drop cannot be negative.",
                    "Write the length read off the tape, without a sign.",
                )),
                Key::OverflowHead | Key::VentedLeft | Key::OtherUncertainty | Key::TapeSideways if below => {
                    Entry { value: None, ..read }.with_problem(negative())
                }
                Key::RiserHeight if below && known.between_seals() => Entry { value: None, ..read }.with_problem(
                    Remark::impossible(
                        "seals.negative",
                        "The height from seal to seal cannot be negative.",
                        "Write the height of the upper seal above the lower one, without a sign.",
                    ),
                ),
                Key::RiserHeight if below && known.riser.get::<meter>() >= 0.0 => {
                    Entry { value: None, ..read }.with_problem(Remark::impossible(
                        "riser.negative",
                        "A negative riser means the transmitter stands above the tank's zero, and the register says it stands below.",
                        "Write the height without a sign; if the transmitter was moved, have the register changed first.",
                    ))
                }
                _ => read,
            }
        }
        Err(problem) => Entry::problem(&problem),
    }
}

fn reading(text: &str, known: &Known, liquid: Gradient) -> Entry {
    match read_number(text) {
        Ok(entry) => {
            let pressure = known.unit.pressure(entry.value, liquid);
            let step = known.unit.pressure(entry.resolution, liquid).get::<pascal>().abs();
            let level = liquid.length(pressure);
            let echo = if known.unit.is_liquid_length() {
                print_length(level, known.people.other().style())
            } else {
                format!("{} of this liquid", print_length(level, known.people.style()))
            };
            Entry::value(Value::Reading { pressure, number: entry.value }, step, echo)
        }
        Err(problem) => Entry::problem(&problem),
    }
}

/// A value in a source's own unit, with what it is on the display.
fn applied(text: &str, unit: ReadingUnit, known: &Known, liquid: Gradient) -> Entry {
    match read_number(text) {
        Ok(entry) => {
            let pressure = unit.pressure(entry.value, liquid);
            let step = unit.pressure(entry.resolution, liquid).get::<pascal>().abs();
            let number = known.unit.reading(pressure, liquid);
            let same = unit == known.unit;
            let echo = if same { String::new() } else { Show::new(known, liquid).reading(pressure) };
            Entry::value(Value::Reading { pressure, number }, step, echo)
        }
        Err(problem) => Entry::problem(&problem),
    }
}

/// A pressure with its unit, or a percentage of the span; the other of the two is echoed.
fn uncertainty(text: &str, known: &Known, liquid: Gradient) -> Entry {
    let Some(span) = known.range(liquid).map(|range| range.span()) else { return Entry::default() };
    let value = |pressure: Pressure, step: Pressure, echo: String| {
        let number = known.unit.reading(pressure, liquid);
        Entry::value(Value::Reading { pressure, number }, step.get::<pascal>().abs(), echo)
    };
    if text.contains('%') {
        return match read_percent(text) {
            Ok(entry) => {
                let pressure = span * entry.value;
                value(pressure, span * entry.resolution, Show::new(known, liquid).uncertainty(pressure))
            }
            Err(problem) => Entry::problem(&problem),
        };
    }
    match read_pressure(text) {
        Ok(entry) => {
            let share = (entry.value / span).get::<percent>();
            value(entry.value, entry.resolution, format!("{} % of span", print_decimal(share, 3)))
        }
        Err(problem) => Entry::problem(&problem),
    }
}

fn pressure(text: &str, known: &Known, liquid: Gradient) -> Entry {
    match read_pressure(text) {
        Ok(entry) => {
            let number = known.unit.reading(entry.value, liquid);
            let echo = Show::new(known, liquid).reading(entry.value);
            let value = Value::Reading { pressure: entry.value, number };
            Entry::value(value, entry.resolution.get::<pascal>().abs(), echo)
        }
        Err(problem) => Entry::problem(&problem),
    }
}

fn current(text: &str) -> Entry {
    match read_number(text) {
        Ok(entry) => {
            let read = Entry::value(Value::Current(entry.value), entry.resolution, String::new());
            if (0.0..=30.0).contains(&entry.value) {
                read
            } else {
                let what = "A loop carries between 0 and 24 mA.";
                Entry { value: None, ..read }.with_problem(Remark::impossible(
                    "current.impossible",
                    what,
                    "Read the meter again, in mA, or leave the field empty.",
                ))
            }
        }
        Err(problem) => Entry::problem(&problem),
    }
}

fn negative() -> Remark {
    let remedy = "Write the number without a sign, or leave the field empty.";
    Remark::impossible("entry.negative", "This cannot be negative.", remedy)
}

fn number(ask: &Ask, text: &str, known: &Known) -> Entry {
    match read_number(text) {
        Ok(entry) => {
            let flows = matches!(ask.spot.key, Key::FlowRate | Key::FlowRateLeft);
            let echo = if flows { flow::echo(known, entry.value) } else { String::new() };
            let read = Entry::value(Value::Number(entry.value), entry.resolution, echo);
            if entry.value >= 0.0 { read } else { Entry { value: None, ..read }.with_problem(negative()) }
        }
        Err(problem) => Entry::problem(&problem),
    }
}
