//! How the transmitter is mounted, read.

use uom::si::f64::{Length, MassDensity, MolarMass, Pressure, ThermodynamicTemperature};
use uom::si::molar_mass::gram_per_mole;

use super::{Known, Reader};
use crate::head::mounting::{Mounting, MountingError, State, Vapour, Vessel};
use crate::head::{Liquid, Surroundings};
use crate::quantity::read_gas_density;
use crate::visit::{Choice, Filling, Instrument, Mounted};

/// How the transmitter is mounted, and the state its vessel works in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownMounting {
    /// The mounting with its heights.
    pub mounting: Mounting,
    /// Where its heights come from, the riser's aside.
    pub heights_from: Choice,
    /// The gas over the liquid of a closed vessel.
    pub vapour: Option<Vapour>,
    /// Working pressure above the air's.
    pub working: Pressure,
    /// The usual temperature of riser or impulse line; none for the tank's.
    pub line: Option<ThermodynamicTemperature>,
    /// The usual temperature of leg or capillaries; none for the tank's.
    pub fill: Option<ThermodynamicTemperature>,
}

impl KnownMounting {
    fn open(riser: Length, heights_from: Choice) -> KnownMounting {
        let working = Pressure::default();
        KnownMounting {
            mounting: Mounting::open(riser),
            heights_from,
            vapour: None,
            working,
            line: None,
            fill: None,
        }
    }
}

impl Known {
    /// Returns what the vessel holds.
    #[must_use]
    pub fn vessel(&self) -> Vessel {
        Vessel { process: self.liquid, vapour: self.mounted.vapour, span: self.span }
    }

    /// Tells whether a measured height is that from seal to seal: with two seals the transmitter's own cancels.
    #[must_use]
    pub fn between_seals(&self) -> bool {
        matches!(self.mounted.mounting, Mounting::TwoSeals { .. })
    }

    /// Returns the mounting as measured today: with another riser, or another height from seal to seal.
    #[must_use]
    pub fn measured(&self, height: Length) -> Mounting {
        match self.mounted.mounting {
            Mounting::TwoSeals { riser, tap, fill, .. } => {
                Mounting::TwoSeals { riser, tap, top: tap + height, fill }
            }
            other => other.with_riser(height),
        }
    }

    /// Returns the vessel at work: usual temperatures and working pressure.
    #[must_use]
    pub fn at_work(&self, around: &Surroundings) -> State {
        State {
            gauge: self.mounted.working,
            line: self.mounted.line.unwrap_or(self.temperature),
            fill: self.mounted.fill.unwrap_or(self.temperature),
            ..State::at(around, self.temperature)
        }
    }
}

/// Reads the mounting of a row whose riser has been read.
pub(super) fn read(
    reader: &mut Reader,
    row: &Instrument,
    riser: Length,
    riser_from: Choice,
) -> Option<KnownMounting> {
    let Some(mounted) = &row.mounting else { return Some(KnownMounting::open(riser, riser_from)) };
    reader.useless(mounted);
    let heights_from = reader.heights_from(&mounted.heights_from).unwrap_or(riser_from);
    let vapour = reader.vapour(mounted);
    let working = reader.given("mounting.working_pressure", &mounted.working_pressure, Reader::pressure);
    let line = reader.given("mounting.line_temperature", &mounted.line_temperature, Reader::temperature);
    let fill = reader.given("mounting.fill_temperature", &mounted.fill_temperature, Reader::temperature);
    let mounting = reader.mounting(mounted, riser)?;
    Some(KnownMounting { mounting, heights_from, vapour, working: working.unwrap_or_default(), line, fill })
}

/// Says what is impossible about a whole row, in its working state.
pub(super) fn check(reader: &mut Reader, known: &Known) {
    let Ok(around) = Surroundings::assumed(known.latitude, known.altitude) else { return };
    let found = known.mounted.mounting.install(&known.vessel(), &known.at_work(&around));
    if let Err(error) = found {
        reader.fault(field(error.field()), said(&error));
    }
}

/// The register's name for a field of a mounting.
fn field(field: &str) -> &'static str {
    match field {
        "riser" => "riser",
        "span" => "span",
        "top" => "mounting.top",
        "tap" => "mounting.tap",
        "fill" | "fill.density" => "mounting.fill",
        "light" | "light.density" => "mounting.light",
        "vapour" => "mounting.vapour_density",
        "pressure" => "mounting.working_pressure",
        "line_temperature" => "mounting.line_temperature",
        "liquid" => "site.liquid_temperature",
        _ => "liquid.density",
    }
}

/// The sentence alone: the field stands beside it.
fn said(error: &MountingError) -> String {
    let text = error.to_string();
    let text = text.split_once(": ").map_or(text.as_str(), |(_, rest)| rest);
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

const KINDS: [&str; 8] =
    ["riser", "above_datum", "dry_leg", "wet_leg", "one_seal", "two_seals", "probe", "interface"];

impl Reader {
    fn given<T>(
        &mut self,
        field: &str,
        text: &str,
        read: fn(&mut Reader, &str, &str) -> Option<T>,
    ) -> Option<T> {
        if text.trim().is_empty() { None } else { read(self, field, text) }
    }

    fn heights_from(&mut self, text: &str) -> Option<Choice> {
        let from = [("tape", Choice::ByTape), ("laser", Choice::ByLaser), ("drawing", Choice::ByDrawing)];
        if text.trim().is_empty() { None } else { self.one_of("mounting.heights_from", text, &from) }
    }

    /// A field that the kind of mounting has no use for is most often one of another kind.
    fn useless(&mut self, of: &Mounted) {
        let kind = of.kind.trim();
        let (closed, gas, seals, filled) = (of.closed(), of.gas(), of.seals(), of.filled());
        let fields = [
            ("mounting.top", closed, of.top.trim().is_empty()),
            ("mounting.tap", seals, of.tap.trim().is_empty()),
            ("mounting.fill", filled, of.fill.is_none()),
            ("mounting.fill_temperature", filled, of.fill_temperature.trim().is_empty()),
            ("mounting.light", kind == "interface", of.light.is_none()),
            ("mounting.vapour_density", gas, of.vapour_density.trim().is_empty()),
            ("mounting.vapour_molar_mass", gas, of.vapour_molar_mass.trim().is_empty()),
            ("mounting.working_pressure", closed, of.working_pressure.trim().is_empty()),
            ("mounting.line_temperature", of.line(), of.line_temperature.trim().is_empty()),
        ];
        if !KINDS.contains(&kind) {
            return;
        }
        for (field, used, empty) in fields {
            if !used && !empty {
                self.fault(
                    field,
                    format!("The mounting {kind} has no use for this. Take it out, or check the kind."),
                );
            }
        }
    }

    fn mounting(&mut self, of: &Mounted, riser: Length) -> Option<Mounting> {
        let kind = of.kind.trim();
        match kind {
            "riser" => Some(Mounting::Riser { riser }),
            "above_datum" => Some(Mounting::AboveDatum { rise: -riser }),
            "probe" => Some(Mounting::Probe { riser }),
            "dry_leg" => Some(Mounting::DryLeg { riser, top: self.needed("mounting.top", &of.top)? }),
            "wet_leg" => {
                let (top, fill) =
                    (self.needed("mounting.top", &of.top), self.filling("mounting.fill", of.fill.as_ref()));
                Some(Mounting::WetLeg { riser, top: top?, fill: fill? })
            }
            "one_seal" => {
                let (tap, fill) = (self.tap(of), self.filling("mounting.fill", of.fill.as_ref()));
                Some(Mounting::OneSeal { riser, tap: tap?, fill: fill? })
            }
            "two_seals" => {
                let (tap, top) = (self.tap(of), self.needed("mounting.top", &of.top));
                let fill = self.filling("mounting.fill", of.fill.as_ref());
                Some(Mounting::TwoSeals { riser, tap: tap?, top: top?, fill: fill? })
            }
            "interface" => {
                let top = self.needed("mounting.top", &of.top);
                let (light, fill) = (
                    self.filling("mounting.light", of.light.as_ref()),
                    self.filling("mounting.fill", of.fill.as_ref()),
                );
                Some(Mounting::Interface { riser, top: top?, light: light?, fill: fill? })
            }
            _ => {
                self.fault(
                    "mounting.kind",
                    format!("“{kind}” is no mounting known here. Write {}.", KINDS.join(", ")),
                );
                None
            }
        }
    }

    fn needed(&mut self, field: &str, text: &str) -> Option<Length> {
        if text.trim().is_empty() {
            self.fault(field, "This mounting needs it. Write the height above the tank's zero.".to_owned());
            return None;
        }
        self.length(field, text)
    }

    fn tap(&mut self, of: &Mounted) -> Option<Length> {
        if of.tap.trim().is_empty() { Some(Length::default()) } else { self.length("mounting.tap", &of.tap) }
    }

    fn filling(&mut self, field: &str, filling: Option<&Filling>) -> Option<Liquid> {
        let Some(filling) = filling else {
            self.fault(field, "This mounting needs it. Write the liquid with its density.".to_owned());
            return None;
        };
        let Filling { name, density, at, expansion, uncertainty } = filling;
        let written = [name, density, at, expansion, uncertainty];
        self.liquid_as_written(field, written.map(String::as_str))
    }

    fn gas_density(&mut self, field: &str, text: &str) -> Option<MassDensity> {
        self.take(field, read_gas_density(text)).map(|entry| entry.value)
    }

    fn vapour(&mut self, of: &Mounted) -> Option<Vapour> {
        let density = self.given("mounting.vapour_density", &of.vapour_density, Reader::gas_density);
        let mass = self.given("mounting.vapour_molar_mass", &of.vapour_molar_mass, Reader::number);
        self.positive("mounting.vapour_molar_mass", mass);
        match (density, mass) {
            (Some(_), Some(_)) => {
                let text = "Write the density of the gas or its molar mass, not both.";
                self.fault("mounting.vapour_molar_mass", text.to_owned());
                None
            }
            (Some(density), None) => Some(Vapour::Density(density)),
            (None, Some(mass)) => Some(Vapour::Ideal(MolarMass::new::<gram_per_mole>(mass))),
            (None, None) => None,
        }
    }
}
