//! Temperatures with their scale.

use uom::si::f64::{TemperatureInterval, ThermodynamicTemperature};
use uom::si::temperature_interval::kelvin as interval_kelvin;
use uom::si::thermodynamic_temperature::kelvin;

use super::ask::ask;
use super::lead::Lead;
use super::{Candidate, Doubtful, EntryError, EntryProblem, print_decimal};

const EXAMPLE: &str = "12 degC or 54 degF";

/// A temperature scale.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TemperatureScale {
    /// Degrees Celsius.
    Celsius,
    /// Degrees Fahrenheit.
    Fahrenheit,
    /// Kelvin.
    Kelvin,
}

impl TemperatureScale {
    /// Returns its symbol as registers write it.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            TemperatureScale::Celsius => "degC",
            TemperatureScale::Fahrenheit => "degF",
            TemperatureScale::Kelvin => "K",
        }
    }

    fn from_word(word: &str) -> Option<TemperatureScale> {
        let word: String = word.to_lowercase().split_whitespace().collect();
        Some(match word.as_str() {
            "degc" | "°c" | "ºc" | "c" | "℃" | "celsius" | "deg.c" => TemperatureScale::Celsius,
            "degf" | "°f" | "ºf" | "f" | "℉" | "fahrenheit" | "deg.f" => TemperatureScale::Fahrenheit,
            "k" | "kelvin" => TemperatureScale::Kelvin,
            _ => return None,
        })
    }

    fn kelvins(self, value: f64) -> f64 {
        match self {
            TemperatureScale::Celsius => value + 273.15,
            TemperatureScale::Fahrenheit => (value + 459.67) / 1.8,
            TemperatureScale::Kelvin => value,
        }
    }

    /// Returns a temperature as a number on this scale.
    #[must_use]
    pub fn value(self, temperature: ThermodynamicTemperature) -> f64 {
        let kelvins = temperature.get::<kelvin>();
        match self {
            TemperatureScale::Celsius => kelvins - 273.15,
            TemperatureScale::Fahrenheit => kelvins * 1.8 - 459.67,
            TemperatureScale::Kelvin => kelvins,
        }
    }
}

/// A temperature as read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TemperatureEntry {
    /// The temperature.
    pub value: ThermodynamicTemperature,
    /// One unit of the last digit written.
    pub resolution: TemperatureInterval,
    /// The scale it was written in.
    pub scale: TemperatureScale,
}

impl TemperatureEntry {
    /// Returns the same temperature on the other of the two everyday scales.
    #[must_use]
    pub fn echo(&self) -> String {
        let other = match self.scale {
            TemperatureScale::Celsius => TemperatureScale::Fahrenheit,
            TemperatureScale::Fahrenheit | TemperatureScale::Kelvin => TemperatureScale::Celsius,
        };
        print_temperature(self.value, other)
    }
}

/// Prints a temperature to a tenth of a degree.
#[must_use]
pub fn print_temperature(temperature: ThermodynamicTemperature, scale: TemperatureScale) -> String {
    format!("{} {}", print_decimal(scale.value(temperature), 1), scale.symbol())
}

/// Why a temperature was not taken.
pub type TemperatureProblem = EntryProblem<ThermodynamicTemperature>;

/// Reads a temperature: `12 degC`, `54 °F`, `285 K`.
///
/// `bare` is the scale of a number that stands alone; without one it is asked.
///
/// # Errors
///
/// [`EntryProblem::Doubtful`] for a missing scale or a doubtful comma; [`EntryProblem::Refused`] for anything
/// else, and outside -100 to 400 degC.
pub fn read_temperature(
    text: &str,
    bare: Option<TemperatureScale>,
) -> Result<TemperatureEntry, TemperatureProblem> {
    let lead = Lead::of(text, EXAMPLE)?;
    let again = |why, texts| Err(ask(why, texts, |text| read_temperature(text, bare), candidate));
    let figure = match lead.figure() {
        Ok(figure) => figure,
        Err(texts) => return again(Doubtful::Comma, texts),
    };
    let known = "degC, degF, K";
    let scale = match (lead.rest.as_str(), bare) {
        ("", None) => {
            return again(Doubtful::NoUnit, ["degC", "degF"].map(|scale| lead.with(figure, scale)).to_vec());
        }
        ("", Some(scale)) => scale,
        (word, _) => TemperatureScale::from_word(word)
            .ok_or_else(|| EntryError::UnknownUnit { unit: word.to_owned(), known })?,
    };
    let kelvins_read = scale.kelvins(lead.signed(figure));
    // A hair of binary rounding must not put -100 degC or 400 degC outside.
    if !(173.15 - 1e-9..=673.15 + 1e-9).contains(&kelvins_read) {
        let limits = "temperatures reach from -100 to 400 degC here";
        return Err(EntryError::Beyond { text: lead.typed, limits }.into());
    }
    let step = scale.kelvins(figure.step()) - scale.kelvins(0.0);
    Ok(TemperatureEntry {
        value: ThermodynamicTemperature::new::<kelvin>(kelvins_read),
        resolution: TemperatureInterval::new::<interval_kelvin>(step),
        scale,
    })
}

fn candidate(text: String, entry: TemperatureEntry) -> Candidate<ThermodynamicTemperature> {
    Candidate { label: format!("{text} = {}", entry.echo()), text, value: entry.value }
}
