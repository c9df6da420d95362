//! Rates of flow with their unit.

use uom::si::f64::VolumeRate;
use uom::si::volume_rate::cubic_meter_per_second;

use super::ask::ask;
use super::lead::Lead;
use super::{Candidate, Doubtful, EntryError, EntryProblem, print_decimal};

const EXAMPLE: &str = "500 US gpm, 32 L/s or 115 m3/h";
const KNOWN: &str = "L/s, L/min, m3/h, m3/s, ML/d, US gpm, Imp gpm, US MGD";

/// The unit a rate of flow is written in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum FlowUnit {
    /// Litres per second.
    LitrePerSecond,
    /// Litres per minute.
    LitrePerMinute,
    /// Cubic metres per hour.
    CubicMetrePerHour,
    /// Cubic metres per second.
    CubicMetrePerSecond,
    /// Megalitres per day: a thousand cubic metres a day.
    MegalitrePerDay,
    /// US gallons per minute.
    UsGallonPerMinute,
    /// Imperial gallons per minute.
    ImperialGallonPerMinute,
    /// Million US gallons per day.
    UsMegagallonPerDay,
}

/// The US gallon is 231 cubic inches, the imperial one 4.54609 L: NIST SP 811 (2008), appendix B.
const US_GALLON: f64 = 231.0 * 0.0254 * 0.0254 * 0.0254;
const IMPERIAL_GALLON: f64 = 4.546_09e-3;

impl FlowUnit {
    fn from_word(word: &str) -> Option<FlowUnit> {
        let word = word.to_lowercase().split_whitespace().collect::<String>().replace('³', "3");
        Some(match word.as_str() {
            "l/s" => FlowUnit::LitrePerSecond,
            "l/min" => FlowUnit::LitrePerMinute,
            "m3/h" => FlowUnit::CubicMetrePerHour,
            "m3/s" => FlowUnit::CubicMetrePerSecond,
            "ml/d" => FlowUnit::MegalitrePerDay,
            "usgpm" | "usgal/min" => FlowUnit::UsGallonPerMinute,
            "impgpm" | "impgal/min" => FlowUnit::ImperialGallonPerMinute,
            "usmgd" => FlowUnit::UsMegagallonPerDay,
            _ => return None,
        })
    }

    /// Returns its symbol, which is also how a register writes it.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            FlowUnit::LitrePerSecond => "L/s",
            FlowUnit::LitrePerMinute => "L/min",
            FlowUnit::CubicMetrePerHour => "m3/h",
            FlowUnit::CubicMetrePerSecond => "m3/s",
            FlowUnit::MegalitrePerDay => "ML/d",
            FlowUnit::UsGallonPerMinute => "US gpm",
            FlowUnit::ImperialGallonPerMinute => "Imp gpm",
            FlowUnit::UsMegagallonPerDay => "US MGD",
        }
    }

    fn one(self) -> f64 {
        match self {
            FlowUnit::LitrePerSecond => 1e-3,
            FlowUnit::LitrePerMinute => 1e-3 / 60.0,
            FlowUnit::CubicMetrePerHour => 1.0 / 3600.0,
            FlowUnit::CubicMetrePerSecond => 1.0,
            FlowUnit::MegalitrePerDay => 1000.0 / 86_400.0,
            FlowUnit::UsGallonPerMinute => US_GALLON / 60.0,
            FlowUnit::ImperialGallonPerMinute => IMPERIAL_GALLON / 60.0,
            FlowUnit::UsMegagallonPerDay => 1e6 * US_GALLON / 86_400.0,
        }
    }

    /// Returns the rate that a number of this unit means.
    #[must_use]
    pub fn rate(self, number: f64) -> VolumeRate {
        VolumeRate::new::<cubic_meter_per_second>(number * self.one())
    }

    /// Returns the number of this unit that a rate is.
    #[must_use]
    pub fn number(self, rate: VolumeRate) -> f64 {
        rate.get::<cubic_meter_per_second>() / self.one()
    }

    /// Prints a rate to three digits at most, with the unit: `496 US gpm`, `31.3 L/s`.
    #[must_use]
    pub fn print(self, rate: VolumeRate) -> String {
        let number = self.number(rate);
        let places = match number.abs() {
            size if size >= 100.0 => 0,
            size if size >= 10.0 => 1,
            size if size >= 1.0 => 2,
            _ => 3,
        };
        let text = print_decimal(number, places);
        let text = if places > 0 { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
        format!("{text} {}", self.symbol())
    }
}

/// A rate of flow as read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FlowEntry {
    /// The rate.
    pub value: VolumeRate,
    /// One unit of the last digit written.
    pub resolution: VolumeRate,
    /// The unit it was written in.
    pub unit: FlowUnit,
}

/// Why a rate of flow was not taken.
pub type FlowProblem = EntryProblem<VolumeRate>;

/// Reads a rate of flow with its unit: `500 US gpm`, `32 L/s`, `115 m3/h`. A gallon that does not say which one is asked:
/// the imperial one is a fifth larger.
///
/// # Errors
///
/// [`EntryProblem::Doubtful`] for a missing unit, a doubtful comma or a gallon of either kind; [`EntryProblem::Refused`]
/// otherwise, and for what is negative or beyond 100 m3/s.
pub fn read_flow(text: &str) -> Result<FlowEntry, FlowProblem> {
    let lead = Lead::of(text, EXAMPLE)?;
    let figure = match lead.figure() {
        Ok(figure) => figure,
        Err(texts) => return Err(ask(Doubtful::Comma, texts, read_flow, candidate)),
    };
    let word = lead.rest.to_lowercase();
    let (why, units): (_, &[&str]) = match word.split_whitespace().collect::<String>().as_str() {
        "" => (Doubtful::NoUnit, &["L/s", "m3/h", "US gpm"]),
        "gpm" | "gal/min" => (Doubtful::Gallon, &["US gpm", "Imp gpm"]),
        _ => (Doubtful::NoUnit, &[]),
    };
    if !units.is_empty() {
        let texts = units.iter().map(|unit| lead.with(figure, unit)).collect();
        return Err(ask(why, texts, read_flow, candidate));
    }
    let unknown = || EntryError::UnknownUnit { unit: lead.rest.clone(), known: KNOWN };
    let unit = FlowUnit::from_word(&lead.rest).ok_or_else(unknown)?;
    let value = unit.rate(lead.signed(figure));
    if !(0.0..=100.0).contains(&value.get::<cubic_meter_per_second>()) {
        let limits = "rates of flow reach from 0 to 100 m3/s here, without a sign";
        return Err(EntryError::Beyond { text: lead.typed, limits }.into());
    }
    Ok(FlowEntry { value, resolution: unit.rate(figure.step()), unit })
}

fn candidate(text: String, entry: FlowEntry) -> Candidate<VolumeRate> {
    let label = format!("{text} = {}", FlowUnit::LitrePerSecond.print(entry.value));
    Candidate { text, value: entry.value, label }
}
