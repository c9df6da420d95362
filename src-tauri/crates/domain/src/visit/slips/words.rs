//! What may have happened, in words.

use uom::si::f64::{Length, Pressure};
use uom::si::ratio::{percent, ratio};

use super::find::Visit;
use super::scene::spot;
use super::{SlipCause, words_beside};
use crate::evidence::slips::{Cause, Mark, Measure, Part, Scene};
use crate::evidence::{Amount, InputId};
use crate::head::mounting::Mounting;
use crate::visit::builder::Built;
use crate::visit::{Key, Show};

/// Returns a cause in words.
pub(super) fn cause(visit: &Visit<'_>, built: &Built, scene: &Scene, cause: &Cause) -> SlipCause {
    let show = Show::new(visit.known, visit.conditions.gradient);
    let known = visit.known;
    let (mounting, elevations) = (&known.mounted.mounting, known.elevations.as_slice());
    let words = Words { show, built, scene, mounting, elevations };
    let (what, why) = match cause {
        Cause::OffsetUnit { .. }
        | Cause::OffsetSign
        | Cause::OffsetTwice
        | Cause::OffsetMissing
        | Cause::OffsetChanged => words.offset(cause),
        Cause::DisplayUnit { .. } | Cause::Absolute | Cause::StubLeft { .. } => words.display(cause),
        Cause::LengthUnit { .. }
        | Cause::RoundStep { .. }
        | Cause::WrongMark { .. }
        | Cause::OtherWayUp { .. } => words.tape(cause),
        Cause::Air { .. } | Cause::Drained { .. } | Cause::Density { .. } => words.riser(cause),
        Cause::Plugged | Cause::Reversed | Cause::Scaled { .. } => words.slope(cause),
        Cause::RegisterUnit { .. } | Cause::RiserUnlike | Cause::OtherInstrument => words.register(cause),
        Cause::OtherOff { .. } => {
            said("the other instrument is off by more than it states", "another level would fit")
        }
        Cause::ProbeDepth { .. }
        | Cause::LegShort { .. }
        | Cause::LegWet { .. }
        | Cause::FillDensity { .. }
        | Cause::VentShut { .. }
        | Cause::Flow { .. } => return words_beside::cause(visit, scene, cause),
    };
    SlipCause { code: cause.code(), what, why, tell: tell(visit, cause).to_owned() }
}

struct Words<'a> {
    show: Show<'a>,
    built: &'a Built,
    scene: &'a Scene,
    mounting: &'a Mounting,
    elevations: &'a [(String, Length)],
}

pub(super) fn said(what: impl Into<String>, why: impl Into<String>) -> (String, String) {
    (what.into(), why.into())
}

impl Words<'_> {
    fn pressure(&self, input: Option<InputId>) -> Pressure {
        match input.and_then(|input| self.built.case.input_named(input)).map(crate::evidence::Input::value) {
            Some(Amount::Pressure(pressure)) => pressure,
            _ => Pressure::default(),
        }
    }

    fn length(&self, input: InputId) -> Length {
        match self.built.case.input_named(input).map(crate::evidence::Input::value) {
            Some(Amount::Length(length)) => length,
            _ => Length::default(),
        }
    }

    /// A number of the display as it stands, taken in another unit.
    fn taken(&self, number: Pressure, unit: &str) -> String {
        let known = self.scene.units.iter().find(|(name, _)| *name == unit);
        let times = known.map_or(1.0, |(_, times)| *times);
        format!("{} {unit} are {}", self.show.number(number), self.show.reading(number * times))
    }

    fn offset(&self, cause: &Cause) -> (String, String) {
        let number = self.pressure(self.scene.offset.map(|(input, _)| input));
        match cause {
            Cause::OffsetUnit { unit } => said(format!("the offset is in {unit}"), self.taken(number, unit)),
            Cause::OffsetSign => said(
                "the offset has the other sign",
                format!("with {} the numbers fit", self.show.change(-number)),
            ),
            Cause::OffsetTwice => said(
                "the offset is in force twice",
                format!("with {} the numbers fit", self.show.change(number * 2.0)),
            ),
            Cause::OffsetMissing => said("the offset is not in force", "with no offset the numbers fit"),
            _ => said(
                "the offset was changed since the record",
                "another offset on the unit would fit, and this one was not read today",
            ),
        }
    }

    fn display(&self, cause: &Cause) -> (String, String) {
        let first = self.scene.readings.first().map(|shown| shown.input);
        match cause {
            Cause::DisplayUnit { unit, part } => {
                let with = if *part == Part::All { ", and so is the offset" } else { "" };
                let number = self.pressure(first.or(self.scene.vented.first().copied()));
                said(format!("the display is in {unit}{with}"), self.taken(number, unit))
            }
            Cause::StubLeft { height } => said(
                "something was left standing on the sensor in the vented check",
                format!("{} of liquid would fit", self.show.small(*height)),
            ),
            _ => said(
                "the sensor is absolute, or shows absolute pressure",
                format!("the air here presses {}", self.show.reading(self.scene.barometer)),
            ),
        }
    }

    fn named(&self, input: InputId) -> &'static str {
        match spot(self.built, input).map(|spot| spot.key) {
            Some(Key::RiserHeight) => "the measured riser",
            Some(Key::OtherLevel) => "the other instrument's level",
            _ if self.is_drop(input) => "the drop",
            _ => "the dip",
        }
    }

    fn is_drop(&self, input: InputId) -> bool {
        let down = crate::evidence::slips::TapeWay::Down;
        self.scene.tapes.iter().any(|tape| tape.input == input && tape.way == down)
    }

    fn tape(&self, cause: &Cause) -> (String, String) {
        match cause {
            Cause::LengthUnit { input, times } => {
                let meant = self.length(*input) * *times;
                let what = format!("{} was written in another unit", self.named(*input));
                said(what, format!("times {times:.4} it is {}, which fits", self.show.length(meant)))
            }
            Cause::RoundStep { input, by } => said(
                format!("{} was read wrong by {}", self.named(*input), self.show.length(by.abs())),
                format!("with {} the numbers fit", self.show.length(self.length(*input) + *by)),
            ),
            Cause::WrongMark { input, mark } => said(
                format!("{} was taken from {}", self.named(*input), self.place(*mark)),
                format!("{} is at {}", self.place(*mark), self.height(*mark)),
            ),
            Cause::OtherWayUp { input } if self.is_drop(*input) => said(
                "a dip from the floor was entered as a drop",
                "counted up from the floor the numbers fit",
            ),
            _ => said(
                "a drop from the hatch was entered as a dip",
                "counted down from the hatch the numbers fit",
            ),
        }
    }

    fn place(&self, mark: Mark) -> String {
        let called = match mark {
            Mark::Zero => "the tank's zero",
            Mark::Floor => "the floor",
            Mark::Sill => "the outlet sill",
            Mark::Hatch => "the hatch mark",
            Mark::Overflow => "the overflow",
            Mark::Full => "the 100 % mark",
            Mark::Named(at) => {
                let name = self.elevations.get(at).map_or("another mark", |(name, _)| name.as_str());
                return format!("the site's “{name}”");
            }
        };
        called.to_owned()
    }

    fn height(&self, mark: Mark) -> String {
        let found = self.scene.marks.iter().find(|(one, _)| *one == mark);
        found.map_or_else(String::new, |(_, height)| self.show.length(*height))
    }

    fn riser(&self, cause: &Cause) -> (String, String) {
        match cause {
            Cause::Air { height } => said(
                "air stands in the riser or the line",
                format!("{} of it would fit", self.show.small(*height)),
            ),
            Cause::Drained { height } => said(
                "the riser was not full when the tank was empty",
                format!("short of {} it fits", self.show.small(*height)),
            ),
            Cause::Density { times } => {
                let off = times.get::<percent>() - 100.0;
                let way = if off < 0.0 { "lighter" } else { "denser" };
                said(
                    format!("the liquid, or the density set on the unit, is {way} than taken"),
                    format!("by {:.1} % it fits; the error then grows with the level", off.abs()),
                )
            }
            _ => said("", ""),
        }
    }

    fn slope(&self, cause: &Cause) -> (String, String) {
        match cause {
            Cause::Plugged => {
                said("the line is plugged, frozen or shut off", "the reading did not move when the level did")
            }
            Cause::Reversed => said(
                "the ports are swapped, or the sign is turned round",
                "the reading falls when the level rises",
            ),
            Cause::Scaled { times } => said(
                "the display is ranged or scaled in another unit than the dips",
                format!("it moves by {:.2} of the level's change", times.get::<ratio>()),
            ),
            _ => said("", ""),
        }
    }

    fn height_by_register(&self, measure: Measure) -> Length {
        let heights = self.scene.register.iter().flat_map(|register| &register.heights);
        heights.filter(|one| one.measure == measure).map(|one| one.height).next().unwrap_or_default()
    }

    fn register(&self, cause: &Cause) -> (String, String) {
        match cause {
            Cause::RegisterUnit { measure, times } => {
                let named = match measure {
                    Measure::Riser => "riser",
                    Measure::Top => "upper tap",
                    Measure::Tap => "lower seal",
                };
                let meant = self.show.length(self.height_by_register(*measure) * *times);
                said(format!("the register's {named} was written in another unit"), format!("{meant} fits"))
            }
            Cause::OtherInstrument if self.scene.other_serial => said(
                "it is another instrument, or another unit is fitted",
                "the serial on the plate is not the register's",
            ),
            Cause::OtherInstrument => {
                said("it is another instrument", "every number may be right, at another tank")
            }
            _ => words_beside::elsewhere(self.mounting),
        }
    }
}

/// How to find out.
fn tell(visit: &Visit<'_>, cause: &Cause) -> &'static str {
    match cause {
        Cause::OffsetUnit { .. } => "Read the unit beside the offset on the instrument.",
        Cause::DisplayUnit { .. } => "Read the unit beside the number on the display.",
        Cause::LengthUnit { .. } => "Look at the tape: which unit does its end carry?",
        Cause::RegisterUnit { .. } => "Ask for the drawing the register was written from.",
        Cause::OffsetSign | Cause::OffsetTwice | Cause::OffsetMissing | Cause::OffsetChanged => {
            "Read the offset on the unit again, sign and all."
        }
        Cause::Absolute => {
            "Vent the sensor where the service allows it: an absolute one shows the weather's pressure."
        }
        Cause::RoundStep { .. } => {
            "Take the tape again and have a second person read it; look for a cut end."
        }
        Cause::WrongMark { .. } | Cause::OtherWayUp { .. } => {
            "Ask the one who held the tape which mark it hung from, and which way it was read."
        }
        Cause::Air { .. } => "Bleed at the high point and read again: air drifts off, a wrong number stays.",
        Cause::Drained { .. } => "Let some water in until the sill is wet, and read again.",
        Cause::Density { .. } => {
            "Take a second level: an error that grows with the level is the density, one that stays is not."
        }
        Cause::Plugged => "Crack a drain or move the level and watch: a free line answers within seconds.",
        Cause::Reversed => "Raise the level, or press the sensor, and watch which way the display goes.",
        Cause::Scaled { .. } => "Read range, unit and density on the unit; take a third level.",
        Cause::StubLeft { .. } => "Vent again and let it run dry.",
        Cause::RiserUnlike => words_beside::tell_elsewhere(&visit.known.mounted.mounting),
        Cause::OtherOff { .. } => {
            "Bring a third level that shares nothing with either; ask when it was last checked."
        }
        Cause::ProbeDepth { .. }
        | Cause::LegShort { .. }
        | Cause::LegWet { .. }
        | Cause::FillDensity { .. }
        | Cause::VentShut { .. }
        | Cause::Flow { .. } => words_beside::tell(&visit.known.mounted.mounting, cause),
        Cause::OtherInstrument => "Compare tag and serial on the plate with the register.",
    }
}
