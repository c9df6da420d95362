//! What happens on a visit, before anyone writes it down.

use crate::chance::Chance;
use crate::tower::{Register, Truth};

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
}

pub(crate) const KINDS: [Kind; 8] = [
    Kind::Dip,
    Kind::Drop,
    Kind::Empty,
    Kind::TwoDips,
    Kind::EmptyAndDip,
    Kind::DipAndVented,
    Kind::DipAndRiser,
    Kind::DipAndDrop,
];

impl Kind {
    pub(crate) fn two_levels(self) -> bool {
        matches!(self, Kind::TwoDips | Kind::EmptyAndDip)
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
}

/// How a level is told.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Told {
    Empty,
    Dip(Vec<f64>),
    Drop(Vec<f64>),
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
    pub(crate) offset: Offset,
    /// The offset that the unit carries.
    pub(crate) carried: f64,
    pub(crate) head_in_offset: bool,
    pub(crate) current: Option<f64>,
    pub(crate) room: Option<f64>,
    pub(crate) serial: &'static str,
}

impl Story {
    /// An honest visit, or one with something wrong in the line.
    pub(crate) fn of(kind: Kind, wrong: Wrong, chance: &mut Chance) -> Story {
        let register = Register::any(chance);
        let truth = Truth::of(&register, chance);
        let trimmed = chance.often(0.8);
        // What a trim some years ago left, and what has drifted since.
        let carried = if trimmed {
            -register.metre * (register.riser + chance.normal(0.02) + chance.normal(2.0 * register.tolerance))
        } else {
            0.0
        };
        let carried = register.pascals((register.number(carried) * 1000.0).round() / 1000.0);
        let offset = match chance.part() {
            part if part < 0.7 => Offset::ReadToday(carried),
            part if part < 0.8 => Offset::OnRecord(carried),
            part if part < 0.9 => Offset::Cleared(carried),
            _ => Offset::Unknown,
        };
        Story::with(kind, wrong, (register, truth), offset, carried, chance)
    }

    pub(crate) fn with(
        kind: Kind,
        wrong: Wrong,
        (register, truth): (Register, Truth),
        offset: Offset,
        carried: f64,
        chance: &mut Chance,
    ) -> Story {
        let standing = if matches!(offset, Offset::Cleared(_)) { 0.0 } else { carried };
        let mut story = Story {
            register,
            truth,
            kind,
            seen: Vec::new(),
            vented: None,
            measured: None,
            offset,
            carried,
            head_in_offset: carried != 0.0,
            current: None,
            room: None,
            serial: "A-1",
        };
        story.bring(wrong, standing, chance);
        story.others(chance);
        story
    }

    fn bring(&mut self, wrong: Wrong, standing: f64, chance: &mut Chance) {
        let top = self.register.span;
        let level = chance.between(0.15, 0.95) * top;
        match self.kind {
            Kind::Dip | Kind::DipAndVented | Kind::DipAndRiser => self.dip(level, wrong, standing, chance),
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
        if self.kind == Kind::DipAndVented {
            let own = chance.normal(self.register.url * self.register.accuracy / 2.0);
            self.vented = Some(self.truth.zero + standing + own + wrong.absolute);
        }
        if self.kind == Kind::DipAndRiser {
            self.measured = Some(self.truth.riser + wrong.longer + chance.normal(0.006));
        }
    }

    fn others(&mut self, chance: &mut Chance) {
        let level = self.register.metre;
        // The display as found is the first one; the loop and the control room follow it.
        let Some(first) = self.seen.first() else { return };
        let shown = first.shown;
        if matches!(self.offset, Offset::Cleared(_)) {
            return;
        }
        let fraction = shown / (level * self.register.span);
        let current = 4.0 + 16.0 * fraction;
        if chance.often(0.6) && (3.9..20.4).contains(&current) {
            self.current = Some(current + chance.within(0.04));
            self.room = chance.often(0.5).then(|| shown / level + chance.within(0.01));
        }
    }

    fn display(&self, level: f64, wrong: Wrong, standing: f64, empty: bool) -> f64 {
        let truth = &self.truth;
        if let (true, Some(first)) = (wrong.plugged, self.seen.first()) {
            return first.shown;
        }
        let denser = if wrong.denser == 0.0 { 1.0 } else { wrong.denser };
        let short = wrong.air + if empty { wrong.drained } else { 0.0 };
        let mut pressed = truth.metre * denser * (truth.riser + wrong.longer + level - short);
        if let (true, Some(first)) = (wrong.scaled != 0.0, self.seen.first()) {
            let from = truth.metre * (truth.riser + first.level);
            pressed = from + wrong.scaled * (pressed - from);
        }
        if wrong.reversed {
            pressed = -pressed;
        }
        pressed + truth.zero + truth.under_head + standing + wrong.absolute
    }

    fn empty(&mut self, wrong: Wrong, standing: f64, chance: &mut Chance) {
        let level = self.truth.sill + chance.within(0.005);
        let shown = self.display(level, wrong, standing, true);
        self.seen.push(Seen { level, shown, told: Told::Empty });
    }

    fn lengths(&self, length: f64, chance: &mut Chance) -> Vec<f64> {
        (0..3).map(|_| length + self.truth.tape + chance.normal(0.0012)).collect()
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

    /// Expanded uncertainty, as a height, of comparing a level told and the offset with the register's riser, put
    /// together by hand from what each may be off by.
    pub(crate) fn expanded(&self) -> f64 {
        let register = &self.register;
        let rect = 3.0_f64.sqrt();
        let level = self.seen.first().map_or(0.0, |seen| seen.level);
        let parts = [
            register.riser_from.1,
            register.allowance / rect / register.metre,
            register.url * register.accuracy / 2.0 / register.metre,
            register.tape,
            0.004,
            0.002,
            0.000_4 * (register.riser + level),
        ];
        2.0 * parts.iter().map(|part| part * part).sum::<f64>().sqrt()
    }
}
