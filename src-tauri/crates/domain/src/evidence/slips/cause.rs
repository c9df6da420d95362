//! What may have gone wrong.

use uom::si::f64::{Length, Pressure, Ratio};

use super::super::InputId;
use super::Measure;

/// A height on the tank that a tape may have been held to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Mark {
    /// The tank's zero.
    Zero,
    /// The floor.
    Floor,
    /// The outlet sill.
    Sill,
    /// The hatch mark.
    Hatch,
    /// The overflow crest.
    Overflow,
    /// The level at 100 %.
    Full,
    /// Another height on the site, by its place in the list of them.
    Named(usize),
}

/// Which numbers of the display a slip is in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Part {
    /// The readings alone.
    Readings,
    /// The readings and the offset.
    All,
}

/// A slip.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Cause {
    /// The offset is a number in another unit.
    OffsetUnit {
        /// The unit it is in.
        unit: &'static str,
    },
    /// The display is in another unit.
    DisplayUnit {
        /// The unit it is in.
        unit: &'static str,
        /// Which numbers.
        part: Part,
    },
    /// A length is in another unit.
    LengthUnit {
        /// Which.
        input: InputId,
        /// Times how much it is meant.
        times: f64,
    },
    /// A height by the register is in another unit.
    RegisterUnit {
        /// Which.
        measure: Measure,
        /// Times how much it is meant.
        times: f64,
    },
    /// The offset has the other sign.
    OffsetSign,
    /// The offset stands twice.
    OffsetTwice,
    /// The offset is not in force at all.
    OffsetMissing,
    /// The offset was changed since the record.
    OffsetChanged,
    /// The sensor is absolute, or shows absolute pressure.
    Absolute,
    /// A tape or a height was read wrong by a round length.
    RoundStep {
        /// Which.
        input: InputId,
        /// What is to be added.
        by: Length,
    },
    /// A tape was held to another mark.
    WrongMark {
        /// Which.
        input: InputId,
        /// The mark it was held to.
        mark: Mark,
    },
    /// A drop was taken for a dip, or a dip for a drop.
    OtherWayUp {
        /// Which.
        input: InputId,
    },
    /// Air stands in the riser or the line.
    Air {
        /// How much.
        height: Length,
    },
    /// The riser ran partly dry.
    Drained {
        /// How far.
        height: Length,
    },
    /// The liquid is not as dense as taken, or the display is scaled for another density.
    Density {
        /// Density over what was taken.
        times: Ratio,
    },
    /// The line is plugged or shut: the reading does not move.
    Plugged,
    /// The ports are swapped, or the sign is turned round: the reading falls when the level rises.
    Reversed,
    /// The display moves by another part of the level's change: ranged in another unit, or scaled.
    Scaled {
        /// Display's change over the level's.
        times: Ratio,
    },
    /// Something was left standing on the sensor in the vented check.
    StubLeft {
        /// How high.
        height: Length,
    },
    /// The transmitter stands elsewhere, or the register has other heights.
    RiserUnlike,
    /// The probe hangs at another depth.
    ProbeDepth {
        /// How much lower; negative for higher.
        by: Length,
    },
    /// A leg that is kept full has lost liquid.
    LegShort {
        /// How much.
        height: Length,
    },
    /// A leg that should hold gas alone has gathered liquid.
    LegWet {
        /// How much.
        height: Length,
    },
    /// Leg or capillaries hold another fill, or one at another temperature.
    FillDensity {
        /// Density over what was taken.
        times: Ratio,
    },
    /// The vent is shut, wet or blocked: the weather since then stands in every reading.
    VentShut {
        /// What it adds.
        by: Pressure,
    },
    /// Water ran in the riser while the display was read.
    Flow {
        /// What it adds: less than nothing when drawn, more when filled.
        by: Pressure,
    },
    /// The other instrument is off by more than it states.
    OtherOff {
        /// Which level.
        input: InputId,
    },
    /// It is another instrument, or another unit is fitted.
    OtherInstrument,
}

impl Cause {
    /// Returns a stable word for it.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Cause::OffsetUnit { .. } => "offset_unit",
            Cause::DisplayUnit { .. } => "display_unit",
            Cause::LengthUnit { .. } => "length_unit",
            Cause::RegisterUnit { .. } => "register_unit",
            Cause::OffsetSign => "offset_sign",
            Cause::OffsetTwice => "offset_twice",
            Cause::OffsetMissing => "offset_missing",
            Cause::OffsetChanged => "offset_changed",
            Cause::Absolute => "absolute",
            Cause::RoundStep { .. } => "round_step",
            Cause::WrongMark { .. } => "wrong_mark",
            Cause::OtherWayUp { .. } => "other_way_up",
            Cause::Air { .. } => "air",
            Cause::Drained { .. } => "drained",
            Cause::Density { .. } => "density",
            Cause::Plugged => "plugged",
            Cause::Reversed => "reversed",
            Cause::Scaled { .. } => "scaled",
            Cause::StubLeft { .. } => "stub_left",
            Cause::RiserUnlike => "riser_unlike",
            Cause::ProbeDepth { .. } => "probe_depth",
            Cause::LegShort { .. } => "leg_short",
            Cause::LegWet { .. } => "leg_wet",
            Cause::FillDensity { .. } => "fill_density",
            Cause::VentShut { .. } => "vent_shut",
            Cause::Flow { .. } => "flow",
            Cause::OtherOff { .. } => "other_off",
            Cause::OtherInstrument => "other_instrument",
        }
    }

    /// Tells whether another one is the same slip in the same number, whatever its size.
    pub(super) fn same(&self, other: &Cause) -> bool {
        let place = |cause: &Cause| match cause {
            Cause::LengthUnit { input, .. }
            | Cause::RoundStep { input, .. }
            | Cause::WrongMark { input, .. }
            | Cause::OtherWayUp { input }
            | Cause::OtherOff { input } => Some(*input),
            _ => None,
        };
        let measure = |cause: &Cause| match cause {
            Cause::RegisterUnit { measure, .. } => Some(*measure),
            _ => None,
        };
        self.code() == other.code() && place(self) == place(other) && measure(self) == measure(other)
    }
}
