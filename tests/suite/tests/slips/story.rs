//! What happens on a visit, before anyone writes it down.

use crate::mounts::{Columns, FILL, HEIGHT, LIGHT, Mount};
use crate::tower::{Register, Truth, air, gravity};
use suite::Chance;

/// Which evidence is brought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Kind {
    Dip,
    Drop,
    Empty,
    TwoDips,
    EmptyAndDip,
    DipAndVented,
    DipAndRiser,
    DipAndDrop,
    Overflow,
    Other,
    DipAndOther,
    RiserAlone,
    DipAndEarlier,
    /// Read, dip three times, read, while the level moves.
    Bracketed,
    /// A dip, a drop, another instrument, a measured riser and a vented check.
    Many,
    /// Another instrument, and a cell with both its sides joined.
    OtherAndVented,
    OtherAndRiser,
}

/// Kinds in which slips are made.
pub(crate) const KINDS: [Kind; 10] = [
    Kind::Dip,
    Kind::Drop,
    Kind::Empty,
    Kind::TwoDips,
    Kind::EmptyAndDip,
    Kind::DipAndVented,
    Kind::DipAndRiser,
    Kind::DipAndDrop,
    Kind::Other,
    Kind::OtherAndVented,
];

impl Kind {
    pub(crate) fn two_levels(self) -> bool {
        matches!(self, Kind::TwoDips | Kind::EmptyAndDip)
    }

    fn measures_riser(self) -> bool {
        matches!(self, Kind::DipAndRiser | Kind::RiserAlone | Kind::Many | Kind::OtherAndRiser)
    }

    fn vents(self) -> bool {
        matches!(self, Kind::DipAndVented | Kind::Many | Kind::OtherAndVented)
    }
}

/// What is wrong with the water or the line.
#[derive(Clone, Copy, Default)]
pub(crate) struct Wrong {
    pub(crate) air: f64,
    pub(crate) drained: f64,
    /// Density over the usual one; nothing for the usual one.
    pub(crate) denser: f64,
    pub(crate) absolute: f64,
    pub(crate) reversed: bool,
    pub(crate) plugged: bool,
    /// The display's change over the level's, about the first level; nothing for one.
    pub(crate) scaled: f64,
    /// The riser is longer than anyone knows.
    pub(crate) longer: f64,
    /// What a leg, a fill or a flow adds to every reading under head, Pa.
    pub(crate) beside: f64,
    /// What the weather behind a shut vent adds to every reading, Pa.
    pub(crate) vent: f64,
}

/// How a level is told.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Told {
    Empty,
    Dip(Vec<f64>),
    Drop(Vec<f64>),
    /// An overflow that runs: its head as measured, or only seen as a film.
    Overflow(Option<f64>),
    /// Another instrument, with the level it tells.
    Other(f64),
}

/// One level, the display at it, and how it is told.
#[derive(Debug, Clone)]
pub(crate) struct Seen {
    pub(crate) level: f64,
    pub(crate) shown: f64,
    pub(crate) told: Told,
}

/// What is known of the offset.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Offset {
    ReadToday(f64),
    OnRecord(f64),
    Cleared(f64),
    Unknown,
}

/// A visit: everything in pascals and metres, as it is before it is written down.
pub(crate) struct Story {
    pub(crate) register: Register,
    pub(crate) truth: Truth,
    pub(crate) kind: Kind,
    pub(crate) seen: Vec<Seen>,
    pub(crate) vented: Option<f64>,
    pub(crate) measured: Option<f64>,
    /// The display as found, where no level is told.
    pub(crate) stands_at: Option<f64>,
    pub(crate) offset: Offset,
    /// The offset that the unit carries.
    pub(crate) carried: f64,
    pub(crate) head_in_offset: bool,
    pub(crate) current: Option<f64>,
    pub(crate) room: Option<f64>,
    pub(crate) serial: &'static str,
    /// How fast the level moves, m/s.
    pub(crate) rate: f64,
    /// The vessel is closed; the line holds the vessel's liquid.
    pub(crate) closed: bool,
    pub(crate) line: bool,
    /// The vent was looked at, and looked clear.
    pub(crate) vent_seen: bool,
    /// How many earlier visits the register knows.
    pub(crate) history: usize,
    /// The display read again and again: by how much of its last digit each is off.
    pub(crate) repeats: Option<Vec<f64>>,
    pub(crate) check: Option<Check>,
}

/// A five-point check: what is applied, and what the display then shows, in pascals.
pub(crate) struct Check {
    /// Expanded uncertainty of the source, Pa.
    pub(crate) source: f64,
    pub(crate) simulated: bool,
    points: Vec<(f64, f64)>,
    /// The largest error that the unit really has at one of the points.
    pub(crate) worst: f64,
}

impl Check {
    /// Up and down by quarters, with a source six times better than the tolerance or more.
    pub(crate) fn of(story: &Story, chance: &mut Chance) -> Check {
        let (register, truth) = (&story.register, &story.truth);
        let whole = register.metre * register.span;
        let source = register.tolerance * register.metre / chance.between(6.0, 20.0);
        let unit_is_off = |part: f64| truth.zero + truth.under_head * part;
        let walk = [0.0, 0.25, 0.5, 0.75, 1.0, 0.75, 0.5, 0.25, 0.0];
        // A certificate's 95 % of what is anywhere within.
        let off = chance.within(source / 2.0 * 3.0_f64.sqrt());
        let points = walk.map(|part| (whole * part, whole * part + unit_is_off(part) + off));
        Check {
            source,
            simulated: !matches!(story.offset, Offset::ReadToday(_)),
            points: points.to_vec(),
            worst: unit_is_off(0.0).abs().max(unit_is_off(1.0).abs()),
        }
    }

    /// What is applied and what is shown, under an offset where it is a pressure on the sensor.
    pub(crate) fn rows(&self, offset: f64) -> impl Iterator<Item = (f64, f64)> + '_ {
        let offset = if self.simulated { 0.0 } else { offset };
        self.points.iter().map(move |(due, shown)| (due - offset, *shown))
    }
}

impl Story {
    /// A visit of one kind at a tower, with something wrong in the line or nothing.
    pub(crate) fn with(
        kind: Kind,
        wrong: Wrong,
        (register, truth): (Register, Truth),
        offset: Offset,
        carried: f64,
        chance: &mut Chance,
    ) -> Story {
        let standing = if matches!(offset, Offset::Cleared(_)) { 0.0 } else { carried };
        let mount = register.columns.mount;
        let mut story = Story {
            register,
            truth,
            kind,
            seen: Vec::new(),
            vented: None,
            measured: None,
            stands_at: None,
            offset,
            carried,
            head_in_offset: carried != 0.0,
            current: None,
            room: None,
            serial: "A-1",
            rate: 0.0,
            closed: mount.closed(),
            line: mount.line(),
            vent_seen: true,
            history: 0,
            repeats: None,
            check: None,
        };
        story.bring(wrong, standing, chance);
        story.others(chance);
        story
    }

    fn bring(&mut self, wrong: Wrong, standing: f64, chance: &mut Chance) {
        let top = self.register.span;
        let level = chance.between(0.15, 0.95) * top;
        match self.kind {
            Kind::Dip | Kind::DipAndVented | Kind::DipAndRiser | Kind::DipAndEarlier => {
                self.dip(level, wrong, standing, chance);
            }
            Kind::Bracketed => {
                // Up to 6 mm a minute.
                self.rate = chance.within(0.0001);
                self.dip(level, wrong, standing, chance);
            }
            Kind::Overflow => self.overflow(wrong, standing, chance),
            Kind::Other | Kind::OtherAndVented | Kind::OtherAndRiser => {
                self.other(level, wrong, standing, chance);
            }
            Kind::DipAndOther => {
                self.dip(level, wrong, standing, chance);
                self.other(level, wrong, standing, chance);
            }
            Kind::RiserAlone => self.stands_at = Some(self.display(level, wrong, standing, false)),
            Kind::Many => {
                self.dip(level, wrong, standing, chance);
                self.drop(level, wrong, standing, chance);
                self.other(level, wrong, standing, chance);
            }
            Kind::Drop => self.drop(level, wrong, standing, chance),
            Kind::Empty => self.empty(wrong, standing, chance),
            Kind::TwoDips => {
                self.dip(chance.between(0.1, 0.4) * top, wrong, standing, chance);
                self.dip(chance.between(0.55, 0.95) * top, wrong, standing, chance);
            }
            Kind::EmptyAndDip => {
                self.empty(wrong, standing, chance);
                self.dip(chance.between(0.4, 0.95) * top, wrong, standing, chance);
            }
            Kind::DipAndDrop => {
                self.dip(level, wrong, standing, chance);
                self.drop(level, wrong, standing, chance);
            }
        }
        if self.kind.vents() {
            let own = chance.normal(self.register.url * self.register.accuracy / 2.0);
            self.vented = Some(self.truth.zero + standing + own + wrong.absolute + wrong.vent);
        }
        if self.kind.measures_riser() {
            self.measured = Some(self.truth.riser + wrong.longer + chance.normal(0.006));
        }
    }

    fn others(&mut self, chance: &mut Chance) {
        let level = self.register.metre;
        // The display as found is the first one; the loop and the control room follow it.
        let Some(shown) = self.as_found() else { return };
        if matches!(self.offset, Offset::Cleared(_)) {
            return;
        }
        let fraction = shown / (level * self.register.span);
        let current = 4.0 + 16.0 * fraction;
        if chance.often(0.6) && (3.9..20.4).contains(&current) {
            // A meter's 0.08 mA with what it is rounded to; a scaling's half a per cent likewise.
            self.current = Some(current + chance.within(0.075));
            let scaled = 0.004 * self.register.span;
            self.room = chance.often(0.5).then(|| shown / level + chance.within(scaled));
        }
    }

    /// The display as found.
    pub(crate) fn as_found(&self) -> Option<f64> {
        self.stands_at.or_else(|| self.seen.first().map(|seen| seen.shown))
    }

    /// The head over an overflow's crest is measured, or a film is seen.
    fn overflow(&mut self, wrong: Wrong, standing: f64, chance: &mut Chance) {
        let crest = self.register.overflow + chance.normal(0.004);
        let measured = chance.often(0.5);
        let head = if measured { chance.between(0.02, 0.08) } else { chance.between(0.0, 0.02) };
        let shown = self.display(crest + head, wrong, standing, false);
        let told = measured.then(|| head + chance.within(0.004));
        self.seen.push(Seen { level: crest + head, shown, told: Told::Overflow(told) });
    }

    fn other(&mut self, level: f64, wrong: Wrong, standing: f64, chance: &mut Chance) {
        let shown = self.display(level, wrong, standing, false);
        let told = Told::Other(level + chance.normal(crate::varied::OTHER.1 / 2.0));
        self.seen.push(Seen { level, shown, told });
    }

    /// The last level that was dipped or dropped to, with the display at it.
    pub(crate) fn dipped(&self) -> Option<f64> {
        let taped = |seen: &&Seen| matches!(seen.told, Told::Dip(_));
        self.seen.iter().rev().find(taped).map(|seen| seen.level)
    }

    /// The same level dipped once more, under the offset that the unit carried when it was found or cleared.
    pub(crate) fn dip_again(&self, level: f64, chance: &mut Chance) -> Seen {
        let standing = if matches!(self.offset, Offset::Cleared(_)) { 0.0 } else { self.carried };
        let told = Told::Dip(self.lengths(level - self.truth.floor, chance));
        Seen { level, shown: self.display(level, Wrong::default(), standing, false), told }
    }

    /// The error that the display has as it is found, in level at the tank's zero.
    pub(crate) fn error(&self) -> f64 {
        let truth = &self.truth;
        (truth.metre * truth.riser + truth.beside + truth.zero + truth.under_head + self.carried)
            / truth.metre
    }

    fn display(&self, level: f64, wrong: Wrong, standing: f64, empty: bool) -> f64 {
        let truth = &self.truth;
        if let (true, Some(first)) = (wrong.plugged, self.seen.first()) {
            return first.shown;
        }
        let denser = if wrong.denser == 0.0 { 1.0 } else { wrong.denser };
        let short = wrong.air + if empty { wrong.drained } else { 0.0 };
        let riser = truth.riser + wrong.longer;
        let density = truth.density * denser;
        let metre = (density - truth.gas) * truth.gravity;
        let beside = truth.columns.beside(riser, metre, truth.gas, truth.gravity);
        // A line up to a transmitter above the zero pulls, and misses what air takes the place of.
        let line = density * truth.gravity * if riser < 0.0 { -1.0 } else { 1.0 };
        let mut pressed = metre * (riser + level) - line * short + beside + wrong.beside;
        if let (true, Some(first)) = (wrong.scaled != 0.0, self.seen.first()) {
            let from = truth.metre * (truth.riser + first.level) + truth.beside;
            pressed = from + wrong.scaled * (pressed - from);
        }
        if wrong.reversed {
            pressed = -pressed;
        }
        pressed + truth.zero + truth.under_head + standing + wrong.absolute + wrong.vent
    }

    fn empty(&mut self, wrong: Wrong, standing: f64, chance: &mut Chance) {
        let level = self.truth.sill + chance.within(0.005);
        let shown = self.display(level, wrong, standing, true);
        self.seen.push(Seen { level, shown, told: Told::Empty });
    }

    fn lengths(&self, length: f64, chance: &mut Chance) -> Vec<f64> {
        (0..3).map(|_| length + self.truth.tape + chance.normal(self.truth.scatter)).collect()
    }

    fn dip(&mut self, level: f64, wrong: Wrong, standing: f64, chance: &mut Chance) {
        let shown = self.display(level, wrong, standing, false);
        let told = Told::Dip(self.lengths(level - self.truth.floor, chance));
        self.seen.push(Seen { level, shown, told });
    }

    fn drop(&mut self, level: f64, wrong: Wrong, standing: f64, chance: &mut Chance) {
        let shown = self.display(level, wrong, standing, false);
        let told = Told::Drop(self.lengths(self.truth.hatch - level, chance));
        self.seen.push(Seen { level, shown, told });
    }

    /// Expanded uncertainty, as a height, of comparing a level told and the offset with the register's standing head: what
    /// each number may be off by, put through hydrostatics by hand one after the other.
    pub(crate) fn expanded(&self) -> f64 {
        let register = &self.register;
        let rect = 3.0_f64.sqrt();
        let level = self.seen.first().map_or(0.0, |seen| seen.level);
        let felt = Felt::of(register);
        let by = |change: &dyn Fn(&mut Felt)| {
            let mut there = felt;
            change(&mut there);
            (there.pressed(level) - felt.pressed(level)) / register.metre
        };
        let columns = register.columns;
        let light = if columns.mount == Mount::Interface { LIGHT } else { 0.05 };
        let liquid = self.register.density_share();
        let other = self.seen.first().is_some_and(|seen| matches!(seen.told, Told::Other(_)));
        let allowance = register.allowance / rect / register.metre;
        let parts = [
            by(&|felt| felt.riser += register.riser_from.1),
            by(&|felt| felt.density *= 1.0 + liquid),
            by(&|felt| felt.gas *= 1.0 + light),
            by(&|felt| felt.gravity += 4e-4),
            by(&|felt| felt.columns.top += HEIGHT),
            by(&|felt| felt.columns.tap += if columns.tap == 0.0 { 0.0 } else { HEIGHT }),
            by(&|felt| felt.columns.fill *= 1.0 + FILL),
            allowance,
            if matches!(self.offset, Offset::OnRecord(_)) { allowance } else { 0.0 },
            register.url * register.accuracy / 2.0 / register.metre,
            if other { crate::varied::OTHER.1 / 2.0 } else { register.tape },
            0.004,
            0.002,
        ];
        2.0 * parts.iter().map(|part| part * part).sum::<f64>().sqrt()
    }
}

/// What a sensor feels by its register.
#[derive(Clone, Copy)]
struct Felt {
    riser: f64,
    density: f64,
    gas: f64,
    gravity: f64,
    columns: Columns,
}

impl Felt {
    fn of(register: &Register) -> Felt {
        Felt {
            riser: register.riser,
            density: register.liquid.density(register.season),
            gas: register.gas.unwrap_or_else(|| air(register.altitude)),
            gravity: gravity(register.latitude, register.altitude),
            columns: register.columns,
        }
    }

    fn pressed(&self, level: f64) -> f64 {
        let metre = (self.density - self.gas) * self.gravity;
        metre * (self.riser + level) + self.columns.beside(self.riser, metre, self.gas, self.gravity)
    }
}
