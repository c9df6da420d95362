//! Mountings: how the transmitter sits, what stands on either side of it, and what evidence there is of that.

use crate::story::Kind;
use crate::tower::{Liquid, Register, Truth, gravity};
use suite::Chance;

/// How the transmitter sits at its vessel.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Mount {
    Riser,
    AboveDatum,
    Probe,
    DryLeg,
    WetLeg,
    OneSeal,
    TwoSeals,
    Interface,
}

/// Open tanks are what there is most of.
pub(crate) const MOUNTS: [Mount; 11] = [
    Mount::Riser,
    Mount::Riser,
    Mount::Riser,
    Mount::Riser,
    Mount::AboveDatum,
    Mount::Probe,
    Mount::DryLeg,
    Mount::WetLeg,
    Mount::OneSeal,
    Mount::TwoSeals,
    Mount::Interface,
];

/// Evidence that needs the tank open, with a line full of its liquid.
const OPEN: [Kind; 15] = [
    Kind::Dip,
    Kind::Drop,
    Kind::Empty,
    Kind::TwoDips,
    Kind::EmptyAndDip,
    Kind::DipAndVented,
    Kind::DipAndRiser,
    Kind::DipAndDrop,
    Kind::Overflow,
    Kind::Other,
    Kind::DipAndOther,
    Kind::RiserAlone,
    Kind::DipAndEarlier,
    Kind::Bracketed,
    Kind::Many,
];
const PROBE: [Kind; 8] = [
    Kind::Dip,
    Kind::Drop,
    Kind::TwoDips,
    Kind::DipAndDrop,
    Kind::Overflow,
    Kind::DipAndOther,
    Kind::Bracketed,
    Kind::DipAndRiser,
];
const CLOSED: [Kind; 5] =
    [Kind::Empty, Kind::Other, Kind::RiserAlone, Kind::OtherAndVented, Kind::OtherAndRiser];
/// The surface between two liquids cannot be seen to stand at the zero.
const INTERFACE: [Kind; 4] = [Kind::Other, Kind::RiserAlone, Kind::OtherAndVented, Kind::OtherAndRiser];
const SEALS: [Kind; 2] = [Kind::Empty, Kind::Other];

/// Standard uncertainty of a height followed with a tape, m.
pub(crate) const HEIGHT: f64 = 0.006;
/// Standard uncertainty of a fill's density, and of the lighter liquid's over an interface, as shares.
pub(crate) const FILL: f64 = 0.002;
pub(crate) const LIGHT: f64 = 0.001;
/// Density of the glycol and water, or of the oil, that fills a leg or a capillary, kg/m3.
const FILLS: [f64; 2] = [1050.0, 934.0];
/// Density of the oil over an interface, kg/m3.
const OIL: f64 = 850.0;

impl Mount {
    fn word(self) -> &'static str {
        match self {
            Mount::Riser => "riser",
            Mount::AboveDatum => "above_datum",
            Mount::Probe => "probe",
            Mount::DryLeg => "dry_leg",
            Mount::WetLeg => "wet_leg",
            Mount::OneSeal => "one_seal",
            Mount::TwoSeals => "two_seals",
            Mount::Interface => "interface",
        }
    }

    pub(crate) fn closed(self) -> bool {
        matches!(self, Mount::DryLeg | Mount::WetLeg | Mount::TwoSeals | Mount::Interface)
    }

    /// The vessel's liquid stands in a line to the sensor.
    pub(crate) fn line(self) -> bool {
        !matches!(self, Mount::Probe | Mount::OneSeal | Mount::TwoSeals)
    }

    pub(crate) fn filled(self) -> bool {
        matches!(self, Mount::WetLeg | Mount::OneSeal | Mount::TwoSeals | Mount::Interface)
    }

    pub(crate) fn kinds(self) -> &'static [Kind] {
        match self {
            Mount::Riser | Mount::AboveDatum => &OPEN,
            Mount::Probe | Mount::OneSeal => &PROBE,
            Mount::DryLeg | Mount::WetLeg => &CLOSED,
            Mount::TwoSeals => &SEALS,
            Mount::Interface => &INTERFACE,
        }
    }
}

/// Heights and fill of a leg or of capillaries.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Columns {
    pub(crate) mount: Mount,
    pub(crate) top: f64,
    pub(crate) tap: f64,
    pub(crate) fill: f64,
}

/// Nothing beside a riser.
pub(crate) const PLAIN: Columns = Columns { mount: Mount::Riser, top: 0.0, tap: 0.0, fill: 0.0 };

impl Columns {
    /// What they press beyond the riser's height of what a metre of level presses: hydrostatics by hand. `gas` is what stands
    /// over the measured liquid; over an interface that is the lighter liquid, and the sums come out the same.
    pub(crate) fn beside(&self, riser: f64, metre: f64, gas: f64, gravity: f64) -> f64 {
        let fill = self.fill_presses(gas, gravity);
        match self.mount {
            Mount::Riser | Mount::AboveDatum | Mount::Probe | Mount::DryLeg => 0.0,
            Mount::WetLeg | Mount::Interface => -fill * (self.top + riser),
            // The capillary stands for the liquid from the seal down to the transmitter.
            Mount::OneSeal => (fill - metre) * (self.tap + riser),
            // Between the seals alone: the transmitter's height cancels.
            Mount::TwoSeals => -metre * (riser + self.tap) - fill * (self.top - self.tap),
        }
    }

    /// What a metre of the fill presses more than what takes its place.
    pub(crate) fn fill_presses(&self, gas: f64, gravity: f64) -> f64 {
        (self.fill - gas) * gravity
    }

    fn member(&self, register: &Register) -> String {
        let length = |metres| register.length(metres);
        let mut members = vec![format!(r#""kind":"{}""#, self.mount.word())];
        if self.mount.closed() {
            members.push(format!(r#""top":"{}""#, length(self.top)));
        }
        if self.mount == Mount::Interface {
            members.push(format!(
                r#""light":{{"name":"oil","density":"{OIL} kg/m3","at":"15 degC","uncertainty":"{} %"}}"#,
                LIGHT * 100.0
            ));
        } else if self.mount.closed() {
            members.push(format!(r#""vapour_density":"{:.3} kg/m3""#, register.gas.unwrap()));
        }
        if matches!(self.mount, Mount::OneSeal | Mount::TwoSeals) {
            members.push(format!(r#""tap":"{}""#, length(self.tap)));
        }
        if self.mount.filled() {
            let (fill, share) = (self.fill, FILL * 100.0);
            members.push(format!(
                r#""fill":{{"name":"fill","density":"{fill} kg/m3","at":"15 degC","uncertainty":"{share} %"}}"#
            ));
        }
        if self.mount != Mount::Riser {
            members.push(r#""heights_from":"tape""#.to_owned());
        }
        format!(r#""mounting":{{{}}}"#, members.join(","))
    }
}

/// A register with its mounting, and the vessel as it is.
pub(crate) fn made(mount: Mount, other_liquids: bool, chance: &mut Chance) -> (Register, Truth) {
    let register = register(mount, other_liquids, chance);
    let truth = truth(&register, chance);
    (register, truth)
}

fn register(mount: Mount, other_liquids: bool, chance: &mut Chance) -> Register {
    let mut register = Register::any(chance);
    if other_liquids && chance.often(0.4) {
        // Brine, or an oil: another density, its own expansion, a composition that is less well known.
        let light = if mount == Mount::Interface { 1030.0 } else { 850.0 };
        let density = chance.one_of(&[light, 1030.0, 1100.0, 1180.0]);
        register.liquid = Liquid::Other(density, 0.0004, chance.one_of(&[0.0005, 0.001]));
    }
    register.riser = match mount {
        Mount::Riser => register.riser,
        Mount::AboveDatum => -register.rounded(chance.between(0.3, 2.5)),
        Mount::Probe => register.rounded(chance.between(0.05, 1.0)),
        _ => register.rounded(chance.between(0.5, 6.0)),
    };
    if mount.closed() {
        let vapour = (chance.between(0.6, 2.5) * 1000.0).round() / 1000.0;
        register.gas = Some(if mount == Mount::Interface { OIL } else { vapour });
        if mount == Mount::Interface {
            // A surface between liquids of nearly one density is known to some decimetres.
            register.tolerance = register.rounded(4.0 * register.tolerance);
        }
        (register.floor, register.hatch) = (0.0, register.rounded(register.overflow + 1.0));
    }
    register.metre = register.metre_at(register.season);
    let tap = if chance.often(0.5) { 0.0 } else { -register.rounded(chance.between(0.05, 0.4)) };
    register.columns = Columns {
        mount,
        top: register.rounded(register.overflow + chance.between(0.2, 1.0)),
        tap,
        fill: chance.one_of(&FILLS),
    };
    let gas = register.gas.unwrap_or_else(|| crate::tower::air(register.altitude));
    let pull = gravity(register.latitude, register.altitude);
    register.beside = register.columns.beside(register.riser, register.metre, gas, pull);
    let most = register.metre * (register.riser.abs() + register.span) + register.beside.abs();
    register.url = register.url.max((most * 2.2 / 10_000.0).ceil() * 10_000.0);
    if mount != Mount::Riser {
        register.url = (most * 2.2 / 10_000.0).ceil() * 10_000.0;
    }
    if mount != Mount::Riser || chance.often(0.2) {
        let member = register.columns.member(&register);
        register.more.push(member);
    }
    register
}

fn truth(register: &Register, chance: &mut Chance) -> Truth {
    let mut truth = Truth::of(register, chance);
    let columns = register.columns;
    if columns.mount == Mount::Interface {
        truth.gas = OIL * (1.0 + chance.normal(LIGHT));
        truth.metre = (truth.density - truth.gas) * truth.gravity;
    }
    truth.columns = Columns {
        top: columns.top + chance.normal(HEIGHT),
        // A lower seal that is the zero is so by agreement.
        tap: if columns.tap == 0.0 { 0.0 } else { columns.tap + chance.normal(HEIGHT) },
        fill: columns.fill * (1.0 + chance.normal(FILL)),
        ..columns
    };
    truth.scatter = chance.between(0.0008, 0.002);
    truth.beside = truth.columns.beside(truth.riser, truth.metre, truth.gas, truth.gravity);
    truth
}
