//! Honest visits of every sort: mountings, liquids, evidence, a history, a five-point check.

use crate::chance::Chance;
use crate::story::{Check, Kind, Offset, Story, Wrong};
use crate::tower::{Liquid, Register, Truth, gravity};

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
}

/// Open tanks are what there is most of.
const MOUNTS: [Mount; 10] = [
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
const PROBE: [Kind; 7] = [
    Kind::Dip,
    Kind::Drop,
    Kind::TwoDips,
    Kind::DipAndDrop,
    Kind::Overflow,
    Kind::DipAndOther,
    Kind::Bracketed,
];
const CLOSED: [Kind; 3] = [Kind::Empty, Kind::Other, Kind::RiserAlone];
const SEALS: [Kind; 2] = [Kind::Empty, Kind::Other];

/// Standard uncertainty of a height followed with a tape, m, and of a fill's density as a share.
const HEIGHT: f64 = 0.006;
const FILL: f64 = 0.002;
/// Density of the glycol and water, or of the oil, that fills a leg or a capillary, kg/m3.
const FILLS: [f64; 2] = [1050.0, 934.0];

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
        }
    }

    fn closed(self) -> bool {
        matches!(self, Mount::DryLeg | Mount::WetLeg | Mount::TwoSeals)
    }

    fn kinds(self) -> &'static [Kind] {
        match self {
            Mount::Riser | Mount::AboveDatum => &OPEN,
            Mount::Probe | Mount::OneSeal => &PROBE,
            Mount::DryLeg | Mount::WetLeg => &CLOSED,
            Mount::TwoSeals => &SEALS,
        }
    }
}

/// Heights and fill of a leg or of capillaries.
#[derive(Clone, Copy)]
struct Columns {
    mount: Mount,
    top: f64,
    tap: f64,
    fill: f64,
}

impl Columns {
    /// What they press beyond the riser's height of the tank's liquid: hydrostatics by hand.
    fn beside(&self, riser: f64, metre: f64, gas: f64, gravity: f64) -> f64 {
        let fill = (self.fill - gas) * gravity;
        match self.mount {
            Mount::Riser | Mount::AboveDatum | Mount::Probe | Mount::DryLeg => 0.0,
            Mount::WetLeg => -fill * (self.top + riser),
            // The capillary stands for the liquid from the seal down to the transmitter.
            Mount::OneSeal => (fill - metre) * (self.tap + riser),
            // Between the seals alone: the transmitter's height cancels.
            Mount::TwoSeals => -metre * (riser + self.tap) - fill * (self.top - self.tap),
        }
    }

    fn member(&self, register: &Register) -> String {
        let length = |metres| register.length(metres);
        let mut members = vec![format!(r#""kind":"{}""#, self.mount.word())];
        if self.mount.closed() {
            members.push(format!(
                r#""top":"{}","vapour_density":"{:.3} kg/m3""#,
                length(self.top),
                register.gas.unwrap()
            ));
        }
        if matches!(self.mount, Mount::OneSeal | Mount::TwoSeals) {
            members.push(format!(r#""tap":"{}""#, length(self.tap)));
        }
        if matches!(self.mount, Mount::WetLeg | Mount::OneSeal | Mount::TwoSeals) {
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

/// An honest visit, whatever sort.
pub(crate) fn any(chance: &mut Chance) -> (Mount, Story) {
    let mount = chance.one_of(&MOUNTS);
    let kind = chance.one_of(mount.kinds());
    let (mut register, columns) = register(mount, chance);
    let mut truth = truth(&register, columns, chance);
    if chance.often(0.3) {
        // Today's temperature was measured, to a degree either way.
        let measured = ((truth.celsius + chance.within(1.0)) * 10.0).round() / 10.0;
        register.metre = register.metre_at(measured);
        register.measured = Some(measured);
    }
    register.more.push(others());
    let history = history(&mut register, &mut truth, kind == Kind::DipAndEarlier, chance);
    // What a trim some years ago left, and what has drifted since.
    let drifted = chance.normal(0.6 * register.tolerance) * register.metre;
    let carried = drifted - (truth.metre * truth.riser + truth.beside + truth.zero);
    let carried = register.pascals((register.number(carried) * 1000.0).round() / 1000.0);
    let offset = match chance.part() {
        _ if matches!(kind, Kind::RiserAlone | Kind::DipAndEarlier) => Offset::ReadToday(carried),
        part if part < 0.7 => Offset::ReadToday(carried),
        part if part < 0.8 => Offset::OnRecord(carried),
        part if part < 0.9 => Offset::Cleared(carried),
        _ => Offset::Unknown,
    };
    let mut story = Story::with(kind, Wrong::default(), (register, truth), offset, carried, chance);
    story.closed = mount.closed();
    story.line = !matches!(mount, Mount::Probe | Mount::OneSeal | Mount::TwoSeals);
    story.history = history;
    story.repeats = chance.often(0.2).then(|| (0..5).map(|_| chance.within(0.6)).collect());
    story.check = chance.often(0.3).then(|| Check::of(&story, chance));
    (mount, story)
}

fn register(mount: Mount, chance: &mut Chance) -> (Register, Columns) {
    let mut register = Register::any(chance);
    if chance.often(0.4) {
        // Brine, or an oil: another density, its own expansion, a composition that is less well known.
        let density = chance.one_of(&[850.0, 1030.0, 1100.0, 1180.0]);
        register.liquid = Liquid::Other(density, 0.0004, chance.one_of(&[0.0005, 0.001]));
    }
    register.riser = match mount {
        Mount::Riser => register.riser,
        Mount::AboveDatum => -register.rounded(chance.between(0.3, 2.5)),
        Mount::Probe => register.rounded(chance.between(0.05, 1.0)),
        _ => register.rounded(chance.between(0.5, 6.0)),
    };
    if mount.closed() {
        register.gas = Some((chance.between(0.6, 2.5) * 1000.0).round() / 1000.0);
        (register.floor, register.hatch) = (0.0, register.rounded(register.overflow + 1.0));
    }
    register.metre = register.metre_at(register.season);
    let tap = if chance.often(0.5) { 0.0 } else { -register.rounded(chance.between(0.05, 0.4)) };
    let columns = Columns {
        mount,
        top: register.rounded(register.overflow + chance.between(0.2, 1.0)),
        tap,
        fill: chance.one_of(&FILLS),
    };
    let gas = register.gas.unwrap_or_else(|| crate::tower::air(register.altitude));
    let pull = gravity(register.latitude, register.altitude);
    register.beside = columns.beside(register.riser, register.metre, gas, pull);
    let most = register.metre * (register.riser.abs() + register.span) + register.beside.abs();
    register.url = (most * 2.2 / 10_000.0).ceil() * 10_000.0;
    if mount != Mount::Riser || chance.often(0.2) {
        let member = columns.member(&register);
        register.more.push(member);
    }
    (register, columns)
}

fn truth(register: &Register, columns: Columns, chance: &mut Chance) -> Truth {
    let mut truth = Truth::of(register, chance);
    if columns.mount != Mount::Riser {
        truth.riser = register.riser + chance.normal(HEIGHT);
    }
    let there = Columns {
        top: columns.top + chance.normal(HEIGHT),
        tap: columns.tap + chance.normal(HEIGHT),
        fill: columns.fill * (1.0 + chance.normal(FILL)),
        ..columns
    };
    truth.scatter = chance.between(0.0008, 0.002);
    truth.beside = there.beside(truth.riser, truth.metre, truth.gas, truth.gravity);
    truth
}

/// Another instrument on the tank: an expanded uncertainty of 20 mm.
pub(crate) const OTHER: (&str, f64) = ("LT-9", 0.020);

fn others() -> String {
    let (name, expanded) = OTHER;
    format!(r#""others":[{{"name":"{name}","uncertainty":"{} mm"}}]"#, expanded * 1000.0)
}

/// Earlier visits, a year or so apart: the zero wanders within its allowance, each visit is off as it says. They rested
/// on dips with today's tape and floor, which are off today as they were then.
fn history(register: &mut Register, truth: &mut Truth, wanted: bool, chance: &mut Chance) -> usize {
    if !wanted && chance.often(0.4) {
        return 0;
    }
    let visits = 1 + (chance.part() * 8.0) as usize;
    let drift = chance.within(register.allowance / 16.0);
    let shared =
        truth.metre * (truth.tape + if register.floor == 0.0 { 0.0 } else { register.floor - truth.floor });
    let mark = if register.floor == 0.0 { 0.0 } else { 0.004 };
    let mut lines = Vec::new();
    for years in (1..=visits).rev() {
        let ago = years as f64;
        let own = chance.between(60.0, 150.0);
        let accuracy = register.url * register.accuracy / 2.0;
        let parts = [own, accuracy, register.metre * register.tape, register.metre * mark];
        let standard = parts.iter().map(|part| part * part).sum::<f64>().sqrt();
        // Riser and line held water of that day; where a fill stands in a leg its day's density is not carried over.
        let celsius =
            if register.beside == 0.0 { register.season + chance.within(6.0) } else { truth.celsius };
        let metre = truth.metre * register.metre_at(celsius) / register.metre_at(truth.celsius);
        let zero = truth.zero - drift * ago;
        let offset =
            shared - (metre * truth.riser + truth.beside + zero + truth.under_head) + chance.normal(own);
        let density = register.liquid.density(celsius);
        lines.push(format!(
            r#"{{"date":"{}-09-{:02}","offset":"{offset:.2} Pa","density":"{density:.4} kg/m3","uncertainty":"{:.3} Pa","by":"dip","tape":"T1","serial":"A-1"}}"#,
            2026 - years,
            10 + (chance.part() * 15.0) as u32,
            2.0 * standard
        ));
    }
    register.more.push(format!(r#""earlier":[{}]"#, lines.join(",")));
    visits
}
