//! Earlier visits, read: every text as a quantity, or what is wrong with it.

use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Length, MassDensity, Pressure};

use super::Earlier;
use crate::head::{Gradient, Surroundings};
use crate::history::Months;
use crate::quantity::{EntryProblem, LengthSystem, read_density, read_length, read_number, read_pressure};
use crate::visit::{Fault, Instrument, Known, moment};

/// What an earlier visit said of the standing offset.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KnownStanding {
    /// The total offset that the evidence called for, at that day's density.
    pub offset: Pressure,
    /// Its standard uncertainty.
    pub standard: Pressure,
    /// That day's density.
    pub density: MassDensity,
    /// What a metre of the liquid pressed that day.
    pub gradient: Gradient,
}

/// An earlier visit, read.
#[derive(Debug, Clone, PartialEq)]
pub struct KnownEarlier {
    /// The day as written.
    pub date: String,
    /// The day, counted from 1970-01-01.
    pub day: i64,
    /// The standing offset, where it followed.
    pub standing: Option<KnownStanding>,
    /// The total offset that the unit was left with, where it is known.
    pub left: Option<Pressure>,
    /// The error as found.
    pub error: Option<Length>,
    /// The tolerance it was judged by, where it differs from the row's.
    pub tolerance: Option<Length>,
    /// Serial number of the unit.
    pub serial: String,
    /// What it rested on.
    pub by: String,
    /// The tape used.
    pub tape: String,
    /// The transmitter was moved before it.
    pub moved: bool,
}

/// What the evidence of an earlier visit may be called.
const KINDS: [&str; 6] = ["", "known_empty", "dip", "drop", "riser", "vented"];

/// Reads the earlier visits of a row, and the interval in force. The row itself has been read before.
pub(in crate::visit) fn read(
    row: &Instrument,
    known: &Known,
) -> Result<(Vec<KnownEarlier>, Option<Months>), Vec<Fault>> {
    let around = Surroundings::assumed(known.latitude, known.altitude);
    let Ok(around) = around else { return Ok((Vec::new(), None)) };
    let mut reader = Reader { people: known.people, around, place: String::new(), faults: Vec::new() };
    let interval = reader.interval(&row.interval);
    let mut visits = Vec::new();
    for (at, earlier) in row.earlier.iter().enumerate() {
        reader.place = format!("earlier[{at}]");
        visits.extend(reader.visit(earlier));
    }
    if reader.faults.is_empty() { Ok((visits, interval)) } else { Err(reader.faults) }
}

struct Reader {
    people: LengthSystem,
    around: Surroundings,
    place: String,
    faults: Vec<Fault>,
}

impl Reader {
    fn fault(&mut self, field: &str, text: impl Into<String>) {
        self.faults.push(Fault { field: format!("{}.{field}", self.place), text: text.into() });
    }

    fn take<E, V>(&mut self, field: &str, read: Result<E, EntryProblem<V>>) -> Option<E> {
        match read {
            Ok(entry) => Some(entry),
            Err(problem) => {
                self.fault(field, format!("{} {}", problem.what(), problem.remedy()));
                None
            }
        }
    }

    fn interval(&mut self, text: &str) -> Option<Months> {
        let text = text.trim();
        if text.is_empty() {
            return None;
        }
        let number = text.trim_end_matches(char::is_alphabetic).trim();
        let unit = text.get(number.len()..).unwrap_or_default().trim();
        let factor = match unit {
            "month" | "months" => Some(1.0),
            "year" | "years" => Some(12.0),
            _ => None,
        };
        let months = read_number(number).ok().map(|entry| entry.value).zip(factor);
        let months = months.map(|(number, factor)| number * factor).filter(|months| *months > 0.0);
        if months.is_none() {
            let text = format!("“{text}” is no interval. Write 12 months or 2 years.");
            self.faults.push(Fault { field: "interval".into(), text });
        }
        months.map(Months)
    }

    fn visit(&mut self, row: &Earlier) -> Option<KnownEarlier> {
        let day = moment::days(&row.date);
        if day.is_none() {
            self.fault("date", format!("“{}” is no date. Write it as 2025-11-20.", row.date));
        }
        if !KINDS.contains(&row.by.trim()) {
            let known = "known_empty, dip, drop, riser or vented";
            self.fault("by", format!("“{}” is none of the words known here. Write {known}.", row.by));
        }
        let gradient = self.gradient(row);
        let standing = self.standing(row, gradient);
        let left = self.pressed("left", &row.left, gradient.map(|(_, gradient)| gradient));
        let error = self.length("error", &row.error);
        let tolerance = self.length("tolerance", &row.tolerance);
        if tolerance.is_some_and(|tolerance| tolerance <= Length::default()) {
            self.fault("tolerance", "It must be more than zero. Check the number and its sign.");
        }
        let text = |text: &str| text.trim().to_owned();
        Some(KnownEarlier {
            date: text(&row.date),
            day: day?,
            standing,
            left,
            error,
            tolerance,
            serial: text(&row.serial),
            by: text(&row.by),
            tape: text(&row.tape),
            moved: row.moved,
        })
    }

    fn gradient(&mut self, row: &Earlier) -> Option<(MassDensity, Gradient)> {
        if row.density.trim().is_empty() {
            return None;
        }
        let density = self.take("density", read_density(&row.density))?.value;
        let gravity = if row.gravity.trim().is_empty() {
            self.around.gravity
        } else {
            let number = self.take("gravity", read_number(&row.gravity))?.value;
            Acceleration::new::<meter_per_second_squared>(number)
        };
        // A planet's gravity in another unit (feet, or a plain g) would move every offset of the row.
        if !(9.7..=9.9).contains(&gravity.get::<meter_per_second_squared>()) {
            self.fault(
                "gravity",
                "Gravity lies between 9.7 and 9.9 m/s2 on the ground. Write the number alone.",
            );
            return None;
        }
        match Gradient::new(density, self.around.air, gravity) {
            Ok(gradient) => Some((density, gradient)),
            Err(error) => {
                self.fault("density", error.to_string());
                None
            }
        }
    }

    fn standing(&mut self, row: &Earlier, day: Option<(MassDensity, Gradient)>) -> Option<KnownStanding> {
        let gradient = day.map(|(_, gradient)| gradient);
        let offset = self.pressed("offset", &row.offset, gradient);
        if row.offset.trim().is_empty() {
            return None;
        }
        if row.density.trim().is_empty() {
            self.fault(
                "density",
                "An offset means little without its density. Write that day's, as 999.1 kg/m3.",
            );
        }
        let expanded = self.pressed("uncertainty", &row.uncertainty, gradient);
        if row.uncertainty.trim().is_empty() {
            self.fault(
                "uncertainty",
                "An offset is of no use without it. Write it (95 %), or leave the offset out.",
            );
        } else if expanded.is_some_and(|expanded| expanded <= Pressure::default()) {
            self.fault("uncertainty", "It must be more than zero. Check the number and its sign.");
        }
        let (density, gradient) = day?;
        Some(KnownStanding { offset: offset?, standard: expanded? / 2.0, density, gradient })
    }

    /// A pressure, or a height of the liquid at that day's density.
    fn pressed(&mut self, field: &str, text: &str, gradient: Option<Gradient>) -> Option<Pressure> {
        if text.trim().is_empty() {
            return None;
        }
        match (read_length(text, self.people), gradient) {
            (Ok(height), Some(gradient)) => Some(gradient.pressure(height.value)),
            (Ok(_), None) => {
                self.fault(
                    field,
                    "A height of liquid needs that day's density. Write density, or a pressure here.",
                );
                None
            }
            (Err(_), _) => self.take(field, read_pressure(text)).map(|entry| entry.value),
        }
    }

    fn length(&mut self, field: &str, text: &str) -> Option<Length> {
        if text.trim().is_empty() {
            return None;
        }
        let read = read_length(text, self.people);
        self.take(field, read).map(|entry| entry.value)
    }
}
