//! The register row, read: every text as a quantity, or what is wrong with it.

mod mounting;
mod overpressure;
mod riser_pipe;
mod tape;

pub use mounting::KnownMounting;
pub use overpressure::KnownOverpressure;
pub use riser_pipe::{KnownPipe, KnownRiser};
pub use tape::KnownMake;
pub(super) use tape::tape_of;

use uom::si::angle::degree;
use uom::si::f64::{Angle, Length, Pressure, Ratio, TemperatureCoefficient, ThermodynamicTemperature};
use uom::si::length::meter;
use uom::si::pressure::pascal;
use uom::si::ratio::ratio;
use uom::si::temperature_coefficient::per_kelvin;

use super::instrument::{Elevation, Other};
use super::{Choice, Instrument, moment, usual};
use crate::evidence::Limits as LevelLimits;
use crate::head::{Gradient, HeadError, Liquid};
use crate::quantity::{
    EntryProblem, FlowUnit, LengthSystem, Position, ReadingUnit, read_density, read_length, read_number,
    read_percent, read_pressure, read_temperature,
};
use crate::ranging::{Action, Range, Sensor};

/// What is wrong with one field of a register row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The field, as the register file names it (`limits.url`).
    pub field: String,
    /// What is wrong and what to write.
    pub text: String,
}

/// A tape, read.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownTape {
    /// What is written on it.
    pub id: String,
    /// Standard uncertainty of a length read off it.
    pub standard: Length,
    /// When its check is due, `2027-03-31`; empty when none is kept.
    pub due: String,
    /// What it is true at, and what lengthens it.
    pub made: KnownMake,
}

/// Another instrument, read.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownOther {
    /// What people call it.
    pub name: String,
    /// Expanded uncertainty, 95 %.
    pub expanded: Length,
    /// True where it is referred to the hatch mark.
    pub by_hatch: bool,
    /// True where it too measures a pressure.
    pub by_pressure: bool,
}

/// What the sensor can take and how true it is, read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownSensor {
    /// Its limits.
    pub limits: Sensor,
    /// Reference accuracy as a pressure, expanded, k = 2.
    pub accuracy: Pressure,
    /// What the sensor's zero may have moved, half-width.
    pub zero_allowance: Pressure,
}

/// A register row, read.
#[derive(Debug, Clone, PartialEq)]
pub struct Known {
    /// Serial number of the unit.
    pub serial: String,
    /// The units people use there.
    pub people: LengthSystem,
    /// Latitude.
    pub latitude: Angle,
    /// Altitude.
    pub altitude: Length,
    /// The liquid.
    pub liquid: Liquid,
    /// Its usual temperature this season.
    pub temperature: ThermodynamicTemperature,
    /// The coldest it gets.
    pub coldest: Option<ThermodynamicTemperature>,
    /// The warmest it gets.
    pub warmest: Option<ThermodynamicTemperature>,
    /// The display's unit.
    pub unit: ReadingUnit,
    /// Riser height.
    pub riser: Length,
    /// Where it comes from.
    pub riser_from: Choice,
    /// Level at 100 %.
    pub span: Length,
    /// LRV in the display's unit.
    pub lrv: f64,
    /// URV in the display's unit.
    pub urv: f64,
    /// Which end 4 mA stands for.
    pub action: Action,
    /// The sensor.
    pub sensor: KnownSensor,
    /// Outlet sill.
    pub sill: Length,
    /// Tank floor.
    pub floor: Length,
    /// Hatch mark.
    pub hatch: Option<Length>,
    /// Overflow crest.
    pub overflow: Option<Length>,
    /// Other heights on the site, by name.
    pub elevations: Vec<(String, Length)>,
    /// Tolerance and adjust limit.
    pub level: LevelLimits,
    /// The trim rule; none where the register leaves it to the visit.
    pub rule: Option<Choice>,
    /// Where the utility wants the standing head taken out.
    pub plan: Choice,
    /// The offset on record, in the display's unit.
    pub offset_on_record: Option<f64>,
    /// Tapes.
    pub tapes: Vec<KnownTape>,
    /// Other instruments on this tank.
    pub others: Vec<KnownOther>,
    /// The interval in force.
    pub interval: Option<crate::history::Months>,
    /// Earlier visits, in the order of the row.
    pub earlier: Vec<super::KnownEarlier>,
    /// How the transmitter is mounted.
    pub mounted: KnownMounting,
    /// Whether the riser carries flow.
    pub flow_riser: KnownRiser,
    /// The unit people there speak of flow in.
    pub flow_unit: FlowUnit,
    /// What presses on the sensor beside the standing column.
    pub overpressure: KnownOverpressure,
}

/// Reads fields and keeps what is wrong with them.
struct Reader {
    people: LengthSystem,
    faults: Vec<Fault>,
}

impl Reader {
    fn fault(&mut self, field: &str, text: String) {
        self.faults.push(Fault { field: field.to_owned(), text });
    }

    fn take<E, V>(&mut self, field: &str, read: Result<E, EntryProblem<V>>) -> Option<E> {
        match read {
            Ok(entry) => Some(entry),
            Err(problem) => {
                let ways: Vec<&str> = problem.candidates().iter().map(|way| way.text.as_str()).collect();
                let meant =
                    if ways.is_empty() { String::new() } else { format!(" Write {}.", ways.join(" or ")) };
                let remedy = if ways.is_empty() { format!(" {}", problem.remedy()) } else { meant };
                self.fault(field, format!("{}{remedy}", problem.what()));
                None
            }
        }
    }

    fn length(&mut self, field: &str, text: &str) -> Option<Length> {
        let read = read_length(text, self.people);
        self.take(field, read).map(|entry| entry.value)
    }

    fn length_or_none(&mut self, field: &str, text: &str) -> Option<Length> {
        if text.trim().is_empty() { None } else { self.length(field, text) }
    }

    fn pressure(&mut self, field: &str, text: &str) -> Option<Pressure> {
        self.take(field, read_pressure(text)).map(|entry| entry.value)
    }

    fn temperature(&mut self, field: &str, text: &str) -> Option<ThermodynamicTemperature> {
        self.take(field, read_temperature(text, None)).map(|entry| entry.value)
    }

    fn number(&mut self, field: &str, text: &str) -> Option<f64> {
        self.take(field, read_number(text)).map(|entry| entry.value)
    }

    fn one_of(&mut self, field: &str, text: &str, words: &[(&str, Choice)]) -> Option<Choice> {
        let found = words.iter().find(|(word, _)| *word == text.trim()).map(|(_, choice)| *choice);
        if found.is_none() {
            let known: Vec<&str> = words.iter().map(|(word, _)| *word).collect();
            self.fault(
                field,
                format!("“{text}” is none of the words known here. Write {}.", known.join(" or ")),
            );
        }
        found
    }

    fn positive(&mut self, field: &str, value: Option<f64>) {
        if value.is_some_and(|value| value <= 0.0) {
            self.fault(field, "It must be more than zero. Check the number and its sign.".to_owned());
        }
    }

    fn not_negative(&mut self, field: &str, value: Option<f64>) {
        if value.is_some_and(|value| value < 0.0) {
            self.fault(field, "It cannot be negative. Check the number and its sign.".to_owned());
        }
    }
}

impl Known {
    /// Returns what is known of a tape by what is written on it.
    #[must_use]
    pub fn tape(&self, id: &str) -> KnownTape {
        let listed = self.tapes.iter().find(|tape| tape.id == id).cloned();
        listed.unwrap_or_else(|| KnownTape::not_listed(id))
    }

    /// Reads a register row.
    ///
    /// # Errors
    ///
    /// Every field that cannot be read, each with what to write.
    pub fn read(row: &Instrument) -> Result<Known, Vec<Fault>> {
        let people = LengthSystem::from_word(row.site.lengths.trim());
        let mut reader = Reader { people: people.unwrap_or(LengthSystem::Metres), faults: Vec::new() };
        if people.is_none() {
            reader.fault("site.lengths", "Write ft or m.".to_owned());
        }
        if row.tag.trim().is_empty() {
            reader.fault("tag", "A tag is needed. Write the instrument's tag.".to_owned());
        }
        let known = reader.row(row);
        match known {
            Some(mut known) if reader.faults.is_empty() => {
                (known.earlier, known.interval) = super::earlier::read(row, &known)?;
                Ok(known)
            }
            _ => Err(reader.faults),
        }
    }

    /// Returns the reading, as pressure, that means level zero: nothing where the standing head is trimmed out,
    /// LRV where the range takes it out.
    #[must_use]
    pub fn zero_reading(&self, liquid: Gradient) -> Pressure {
        if self.plan == Choice::HeadInRange {
            self.unit.pressure(self.lrv, liquid)
        } else {
            Pressure::default()
        }
    }

    /// Returns the level that a reading means.
    #[must_use]
    pub fn level_of(&self, reading: Pressure, liquid: Gradient) -> Length {
        liquid.length(reading - self.zero_reading(liquid))
    }

    /// Returns the range as set, or `None` where LRV and URV meet.
    #[must_use]
    pub fn range(&self, liquid: Gradient) -> Option<Range> {
        let end = |value| self.unit.pressure(value, liquid);
        Range::new(end(self.lrv), end(self.urv), self.action).ok()
    }

    /// Returns the standard uncertainty of a riser height by how it was found.
    #[must_use]
    pub(super) fn riser_standard(how: Choice) -> Length {
        match how {
            Choice::ByTape => usual::riser_by_tape(),
            Choice::ByLaser => usual::riser_by_laser(),
            _ => usual::riser_by_drawing(),
        }
    }
}

impl Reader {
    fn row(&mut self, row: &Instrument) -> Option<Known> {
        // Everything is read before anything is given up, so that one pass names every fault.
        let latitude = self.latitude(&row.site.latitude);
        let altitude = self.length("site.altitude", &row.site.altitude);
        let liquid = self.liquid(row);
        let temperature = self.temperature("site.liquid_temperature", &row.site.liquid_temperature);
        let coldest = self.temperature_or_none("site.coldest", &row.site.coldest);
        let warmest = self.temperature_or_none("site.warmest", &row.site.warmest);
        let unit = self.unit(&row.unit);
        let riser = self.length("riser", &row.riser);
        let from = [("tape", Choice::ByTape), ("laser", Choice::ByLaser), ("drawing", Choice::ByDrawing)];
        let riser_from = self.one_of("riser_from", &row.riser_from, &from);
        let span = self.length("span", &row.span);
        self.positive("span", span.map(|span| span.get::<meter>()));
        let lrv = self.number("lrv", &row.lrv);
        let urv = self.number("urv", &row.urv);
        if let (Some(lrv), Some(urv)) = (lrv, urv)
            && urv <= lrv
        {
            self.fault("urv", "URV must be above LRV. Where 20 mA is the empty end, set reverse.".to_owned());
        }
        let sensor = self.sensor(row);
        let sill = self.length_or_none("sill", &row.sill).unwrap_or_default();
        let floor = self.length_or_none("floor", &row.floor).unwrap_or_default();
        let hatch = self.length_or_none("hatch", &row.hatch);
        let overflow = self.length_or_none("overflow", &row.overflow);
        let elevations =
            row.elevations.iter().enumerate().filter_map(|(at, row)| self.elevation(at, row)).collect();
        self.whereabouts(row);
        let level = self.level(row, span.unwrap_or_default());
        let rule = self.rule(&row.trim_rule);
        let plans = [("head_in_offset", Choice::HeadInOffset), ("head_in_range", Choice::HeadInRange)];
        let plan = self.one_of("head_plan", &row.head_plan, &plans);
        let offset_on_record = self.offset(&row.offset_on_record);
        let tapes = row.tapes.iter().enumerate().filter_map(|(at, row)| tape::read(self, at, row)).collect();
        let others = row.others.iter().enumerate().filter_map(|(at, other)| self.other(at, other)).collect();
        let mounted = riser.zip(riser_from).and_then(|(riser, from)| mounting::read(self, row, riser, from));
        let overpressure = overpressure::read(self, &row.overpressure);
        let flow_riser = riser.map_or(KnownRiser::NotSaid, |riser| riser_pipe::read(self, row, riser));
        let known = Known {
            serial: row.serial.trim().to_owned(),
            people: self.people,
            latitude: latitude?,
            altitude: altitude?,
            liquid: liquid?,
            temperature: temperature?,
            coldest,
            warmest,
            unit: unit?,
            riser: riser?,
            riser_from: riser_from?,
            span: span?,
            lrv: lrv?,
            urv: urv?,
            action: if row.reverse { Action::Reverse } else { Action::Direct },
            sensor: sensor?,
            sill,
            floor,
            hatch,
            overflow,
            elevations,
            level: level?,
            rule,
            plan: plan?,
            offset_on_record,
            tapes,
            others,
            // Read once the rest stands: they need the site's gravity and air.
            interval: None,
            earlier: Vec::new(),
            mounted: mounted?,
            flow_riser,
            flow_unit: riser_pipe::unit(row, self.people),
            overpressure,
        };
        mounting::check(self, &known);
        riser_pipe::check(self, &known);
        Some(known)
    }

    fn elevation(&mut self, at: usize, row: &Elevation) -> Option<(String, Length)> {
        let field = |name: &str| format!("elevations[{at}].{name}");
        if row.name.trim().is_empty() {
            self.fault(
                &field("name"),
                "A name is needed. Write what people call it: flange, ground, slab.".to_owned(),
            );
        }
        let height = self.length(&field("height"), &row.height)?;
        Some((row.name.trim().to_owned(), height))
    }

    fn other(&mut self, at: usize, other: &Other) -> Option<KnownOther> {
        let field = |name: &str| format!("others[{at}].{name}");
        if other.name.trim().is_empty() {
            self.fault(&field("name"), "A name is needed. Write its tag, or what people call it.".to_owned());
        }
        let expanded = self.length(&field("uncertainty"), &other.uncertainty);
        self.positive(&field("uncertainty"), expanded.map(|expanded| expanded.get::<meter>()));
        let known = ["hatch", "density"];
        let shared: Vec<&str> = other.shares.split_whitespace().collect();
        if let Some(word) = shared.iter().find(|word| !known.contains(word)) {
            let text =
                format!("“{word}” is none of the words known here. Write hatch, density, both or nothing.");
            self.fault(&field("shares"), text);
        }
        Some(KnownOther {
            name: other.name.trim().to_owned(),
            expanded: expanded?,
            by_hatch: shared.contains(&"hatch"),
            by_pressure: shared.contains(&"density"),
        })
    }

    fn latitude(&mut self, text: &str) -> Option<Angle> {
        let degrees = self.number("site.latitude", text)?;
        if degrees.abs() > 90.0 {
            self.fault("site.latitude", "Write degrees between -90 and 90, north positive.".to_owned());
            return None;
        }
        Some(Angle::new::<degree>(degrees))
    }

    /// What an instrument is found by: nothing is measured with it, but a slip here sends somebody to the wrong place.
    fn whereabouts(&mut self, row: &Instrument) {
        let position = Some(row.position.trim()).filter(|text| !text.is_empty());
        match position.map(Position::read) {
            Some(None) => self.fault(
                "position",
                "Write latitude and longitude in degrees, as 39.2043, -98.9127: north and east positive."
                    .to_owned(),
            ),
            Some(Some(at)) => self.same_latitude(at, &row.site.latitude),
            None => {}
        }
        if !row.due.trim().is_empty() && moment::days(&row.due).is_none() {
            self.fault("due", format!("“{}” is no date. Write it as 2026-11-30.", row.due));
        }
    }

    /// The site's latitude may be rounded; a whole degree apart they are of two places, or latitude and longitude stand
    /// the wrong way round.
    fn same_latitude(&mut self, at: Position, latitude: &str) {
        let site = read_number(latitude).ok().map(|entry| entry.value);
        if site.is_some_and(|site| (site - at.latitude.get::<degree>()).abs() > 1.0) {
            let text = "Its latitude is more than a degree from site.latitude. Write latitude first, and check both.";
            self.fault("position", text.to_owned());
        }
    }

    fn temperature_or_none(&mut self, field: &str, text: &str) -> Option<ThermodynamicTemperature> {
        if text.trim().is_empty() { None } else { self.temperature(field, text) }
    }

    fn share(&mut self, field: &str, text: &str) -> Option<Ratio> {
        if text.trim().is_empty() {
            None
        } else {
            self.take(field, read_percent(text)).map(|entry| entry.value)
        }
    }

    fn unit(&mut self, text: &str) -> Option<ReadingUnit> {
        match ReadingUnit::parse(text) {
            Ok(unit) => Some(unit),
            Err(error) => {
                self.fault("unit", format!("{error} {}", error.remedy()));
                None
            }
        }
    }

    fn offset(&mut self, text: &str) -> Option<f64> {
        if text.trim().is_empty() { None } else { self.number("offset_on_record", text) }
    }

    fn rule(&mut self, text: &str) -> Option<Choice> {
        let rules = [("true_at_zero", Choice::TrueAtZero), ("true_at_reference", Choice::TrueAtReference)];
        if text.trim().is_empty() { None } else { self.one_of("trim_rule", text, &rules) }
    }

    fn liquid(&mut self, row: &Instrument) -> Option<Liquid> {
        let of = &row.liquid;
        let written = [&of.name, &of.density, &of.at, &of.expansion, &of.uncertainty];
        self.liquid_as_written("liquid", written.map(String::as_str))
    }

    /// Reads a liquid by its name, its density, the temperature that holds at, its expansion and its uncertainty: water by
    /// its name alone.
    fn liquid_as_written(&mut self, field: &str, written: [&str; 5]) -> Option<Liquid> {
        let [name, density, at, expansion, uncertainty] = written;
        let named = |part: &str| format!("{field}.{part}");
        let share = self.share(&named("uncertainty"), uncertainty);
        let liquid = if name.trim().eq_ignore_ascii_case("water") && density.trim().is_empty() {
            Liquid::water()
        } else {
            let density = self.take(&named("density"), read_density(density)).map(|entry| entry.value);
            let at = self.temperature(&named("at"), at);
            let none = expansion.trim().is_empty();
            let expansion = if none { Some(0.0) } else { self.number(&named("expansion"), expansion) };
            let expansion = TemperatureCoefficient::new::<per_kelvin>(expansion?);
            self.head(&named("density"), Liquid::other(density?, at?, expansion))?
        };
        let Some(share) = share else { return Some(liquid) };
        self.head(&named("uncertainty"), liquid.known_within(share))
    }

    fn head<T>(&mut self, field: &str, made: Result<T, HeadError>) -> Option<T> {
        match made {
            Ok(made) => Some(made),
            Err(error) => {
                self.fault(field, error.to_string());
                None
            }
        }
    }

    fn sensor(&mut self, row: &Instrument) -> Option<KnownSensor> {
        let texts = &row.limits;
        let lrl = self.pressure("limits.lrl", &texts.lrl);
        let url = self.pressure("limits.url", &texts.url);
        let min_span = self.pressure("limits.min_span", &texts.min_span);
        let max_working = self.pressure("limits.max_working", &texts.max_working);
        let trim_limit = if texts.trim_limit.trim().is_empty() {
            None
        } else {
            self.pressure("limits.trim_limit", &texts.trim_limit)
        };
        let accuracy = self.take("limits.accuracy", read_percent(&texts.accuracy)).map(|entry| entry.value);
        let zero_allowance = self.pressure("limits.zero_allowance", &texts.zero_allowance);
        let pascals = |pressure: Option<Pressure>| pressure.map(|pressure| pressure.get::<pascal>());
        self.positive("limits.url", pascals(url));
        self.positive("limits.max_working", pascals(max_working));
        self.not_negative("limits.min_span", pascals(min_span));
        self.not_negative("limits.trim_limit", pascals(trim_limit));
        self.not_negative("limits.accuracy", accuracy.map(|share| share.get::<ratio>()));
        self.not_negative("limits.zero_allowance", pascals(zero_allowance));
        let (lrl, url) = (lrl?, url?);
        if url <= lrl {
            self.fault("limits.url", "URL must be above LRL. Check both limits.".to_owned());
        }
        Some(KnownSensor {
            limits: Sensor { lrl, url, min_span: min_span?, max_working: max_working?, trim_limit },
            accuracy: url * accuracy?.get::<ratio>(),
            zero_allowance: zero_allowance?,
        })
    }

    fn level(&mut self, row: &Instrument, span: Length) -> Option<LevelLimits> {
        let tolerance = if row.tolerance.contains('%') {
            self.share("tolerance", &row.tolerance).map(|share| span * share.get::<ratio>())
        } else {
            self.length("tolerance", &row.tolerance)
        };
        let adjust = self.length_or_none("adjust_limit", &row.adjust_limit);
        self.positive("tolerance", tolerance.map(|tolerance| tolerance.get::<meter>()));
        Some(LevelLimits { tolerance: tolerance?, adjust, span })
    }
}
