//! A tape of the register, read.

use uom::si::area::square_millimeter;
use uom::si::f64::{Area, Force, Pressure, Ratio, TemperatureCoefficient, ThermodynamicTemperature};
use uom::si::force::newton;
use uom::si::length::meter;
use uom::si::pressure::gigapascal;
use uom::si::ratio::ratio;
use uom::si::temperature_coefficient::per_kelvin;

use super::{KnownTape, Reader};
use crate::evidence::tape::stretch;
use crate::quantity::LengthSystem;
use crate::visit::Instrument;
use crate::visit::instrument::Tape;
use crate::visit::usual;

/// The largest linear expansion that a tape is made of: plastics reach 2e-4 per kelvin.
const MOST_EXPANSION: f64 = 5e-4;
/// A tape that is stretched by more than this part of its length is on its way to breaking.
const MOST_STRETCH: f64 = 0.01;

/// What a tape is true at, and what lengthens it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownMake {
    /// Its linear expansion.
    pub expansion: TemperatureCoefficient,
    /// The temperature it is true at.
    pub at: ThermodynamicTemperature,
    /// By what part of its length its bob stretches it beyond what it is true under.
    pub stretch: Ratio,
    /// True where nobody stated expansion or temperature, and it is taken as steel that is true at 20 degC.
    pub taken_as_steel: bool,
}

impl Default for KnownMake {
    fn default() -> KnownMake {
        let (expansion, at) = (usual::steel_expansion(), usual::tape_true_at());
        KnownMake { expansion, at, stretch: Ratio::default(), taken_as_steel: true }
    }
}

/// Returns what a row says of a tape by what is written on it, where only that is wanted.
pub(in crate::visit) fn tape_of(row: &Instrument, id: &str) -> KnownTape {
    let people = LengthSystem::from_word(row.site.lengths.trim()).unwrap_or(LengthSystem::Metres);
    let mut reader = Reader { people, faults: Vec::new() };
    let listed = row.tapes.iter().find(|tape| tape.id == id);
    listed.and_then(|tape| read(&mut reader, 0, tape)).unwrap_or_else(|| KnownTape::not_listed(id))
}

impl KnownTape {
    /// Returns what is known of a tape that is not in the register: nothing but that tapes are of steel as a rule.
    pub(super) fn not_listed(id: &str) -> KnownTape {
        KnownTape {
            id: id.to_owned(),
            standard: usual::unnamed_tape(),
            due: String::new(),
            made: KnownMake::default(),
        }
    }
}

/// Reads a tape; its place in the list names its fields.
pub(super) fn read(reader: &mut Reader, place: usize, row: &Tape) -> Option<KnownTape> {
    let field = |name: &str| format!("tapes[{place}].{name}");
    let standard = reader.length(&field("uncertainty"), &row.uncertainty);
    reader.positive(&field("uncertainty"), standard.map(|standard| standard.get::<meter>()));
    let usual = KnownMake::default();
    let expansion = optional(reader, &field("expansion"), &row.expansion);
    if expansion.is_some_and(|expansion| !(0.0..=MOST_EXPANSION).contains(&expansion)) {
        let text = "A tape grows by at most 0.0005 of its length per kelvin. Steel's is 1.17e-5.";
        reader.fault(&field("expansion"), text.to_owned());
    }
    let at = reader.temperature_or_none(&field("at"), &row.at);
    let made = KnownMake {
        expansion: expansion.map_or(usual.expansion, TemperatureCoefficient::new::<per_kelvin>),
        at: at.unwrap_or(usual.at),
        stretch: stretched(reader, &field, row),
        taken_as_steel: row.expansion.trim().is_empty() || row.at.trim().is_empty(),
    };
    Some(KnownTape { id: row.id.clone(), standard: standard?, due: row.due.trim().to_owned(), made })
}

fn optional(reader: &mut Reader, field: &str, text: &str) -> Option<f64> {
    if text.trim().is_empty() { None } else { reader.number(field, text) }
}

fn stretched(reader: &mut Reader, field: &impl Fn(&str) -> String, row: &Tape) -> Ratio {
    let pull = optional(reader, &field("pull"), &row.pull);
    let section = optional(reader, &field("section"), &row.section);
    let modulus = optional(reader, &field("modulus"), &row.modulus);
    reader.positive(&field("section"), section);
    reader.positive(&field("modulus"), modulus);
    let (Some(pull), Some(section)) = (pull, section) else {
        if pull.is_some() && row.section.trim().is_empty() {
            let text = "A pull stretches by the cross-section: write it in mm2, or leave the pull out.";
            reader.fault(&field("section"), text.to_owned());
        }
        return Ratio::default();
    };
    let modulus = modulus.map_or(usual::steel_modulus(), Pressure::new::<gigapascal>);
    let found = stretch(Force::new::<newton>(pull), Area::new::<square_millimeter>(section), modulus);
    match found.filter(|found| found.abs() <= Ratio::new::<ratio>(MOST_STRETCH)) {
        Some(found) => found,
        None => {
            let text = "This pull would stretch the tape by more than a hundredth. Check newtons and mm2.";
            reader.fault(&field("pull"), text.to_owned());
            Ratio::default()
        }
    }
}
