//! A simulated visit: the truth behind it, what is typed, and the ways to the shift for `trials`.
//!
//! One convention throughout: a true quantity is what is stated plus an error. Each error is a *source* with the
//! shape the visit states for it, drawn once for the truth and drawn anew in every trial.

use std::collections::BTreeMap;

use domain::visit::{Choice, Draft, Key, Moment, PieceId, PieceKind, Spot, Timing};

use crate::chance::{Chance, Shape};
use crate::mount::Own;
use crate::site::Site;

/// The place of an error among those of its visit.
pub(crate) type Source = usize;

/// A way to the shift: what it comes out as, in pascals, for one draw of all errors.
pub(crate) type Way = Box<dyn Fn(&Drawn<'_>) -> f64>;

/// One draw of all errors of a visit.
pub(crate) struct Drawn<'a> {
    /// The errors.
    pub(crate) errors: &'a [f64],
    /// Pascals of one metre of liquid with those errors.
    pub(crate) gradient: f64,
}

impl Drawn<'_> {
    pub(crate) fn sum(&self, sources: &[Source]) -> f64 {
        sources.iter().map(|source| self.errors[*source]).sum()
    }
}

/// What is true.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Truth {
    pub(crate) gradient: f64,
    /// The height that a person measures: the riser's, or that from seal to seal.
    pub(crate) height: f64,
    /// What the columns press at level zero.
    pub(crate) head: f64,
    pub(crate) level: f64,
    /// What the unit carries.
    pub(crate) offset: f64,
    /// The sensor's own error at the pressure of the tank's zero.
    pub(crate) zero: f64,
    /// Its error with water over the zero, and at atmosphere.
    pub(crate) under_head: f64,
    pub(crate) at_atmosphere: f64,
    /// What the weather adds through a blocked vent.
    pub(crate) weather: f64,
    /// What the rule wants shown, for each metre of level, over what the level presses.
    pub(crate) reference: Option<f64>,
}

/// Sources that every visit has.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Common {
    pub(crate) kelvin: Source,
    pub(crate) composition: Source,
    pub(crate) gravity: Source,
    pub(crate) air: Source,
    pub(crate) accuracy: Source,
    pub(crate) own_accuracy: Source,
    pub(crate) allowance: Source,
}

/// The visit.
pub(crate) struct Visit {
    pub(crate) chance: Chance,
    pub(crate) site: Site,
    pub(crate) draft: Draft,
    pub(crate) truth: Truth,
    pub(crate) shapes: Vec<Shape>,
    pub(crate) common: Common,
    pub(crate) weather: Vec<Source>,
    pub(crate) ways: Vec<Way>,
    pub(crate) named: BTreeMap<&'static str, (Source, f64)>,
    pub(crate) now: i64,
    /// The errors of the sources that every visit has, as the truth has them.
    pub(crate) common_errors: [f64; 4],
    /// Those of the mounting's own measures.
    pub(crate) own: Own,
    /// How much repeated dips scatter, standard.
    pub(crate) swell: f64,
    /// By what part of its length a tape is longer than its marks say.
    pub(crate) tape_grown: f64,
    /// By how much more a tape shows than the height it spans, because it hangs aslant, m.
    pub(crate) tape_aslant: f64,
}

/// How far the liquid's temperature may be off as measured, half-width, K.
const KELVIN: f64 = 1.0;
/// Standard uncertainty of local gravity, m/s2.
const GRAVITY: f64 = 4e-4;
/// Standard uncertainty of a surveyed mark, m.
pub(crate) const MARK: f64 = 0.004;

impl Visit {
    pub(crate) fn begin(seed: u64, fine: bool, rule: &str, shape: impl FnOnce(&mut Site)) -> Visit {
        let mut chance = Chance::seeded(seed);
        let mut site = Site::drawn(&mut chance, fine);
        shape(&mut site);
        let begun = 1_790_000_000_000;
        let mut draft = Draft::begin(site.row(rule), Moment(begun));
        let temperature = format!("{:.1} degC", site.celsius);
        draft.answers.put(Spot::of(Key::LiquidTemperature), temperature, Moment(begun));
        let mut shapes = Vec::new();
        let mut drawn = |shape| {
            shapes.push(shape);
            chance.error(shape)
        };
        let kelvin = drawn(Shape::Rectangle(KELVIN));
        let composition = drawn(Shape::Normal(site.composition));
        let gravity = drawn(Shape::Normal(GRAVITY));
        let air = drawn(Shape::Normal(site.mount.over_part()));
        let accuracy = drawn(Shape::Normal(site.accuracy));
        let own_accuracy = drawn(Shape::Normal(site.accuracy));
        let allowance = drawn(Shape::Rectangle(site.allowance));
        let gradient = gradient(&site, [kelvin, composition, gravity, air]);
        let height = site.mount.measured(site.riser) + chance.between(-0.05, 0.05);
        let zero = allowance + accuracy;
        let truth = Truth {
            gradient,
            height,
            head: 0.0,
            level: chance.between(0.2, 0.9) * site.span,
            offset: 0.0,
            zero,
            under_head: zero - accuracy,
            at_atmosphere: zero - own_accuracy,
            weather: 0.0,
            reference: None,
        };
        let common = Common {
            kelvin: 0,
            composition: 1,
            gravity: 2,
            air: 3,
            accuracy: 4,
            own_accuracy: 5,
            allowance: 6,
        };
        let mut visit = Visit {
            chance,
            site,
            draft,
            truth,
            shapes,
            common,
            weather: Vec::new(),
            ways: Vec::new(),
            named: BTreeMap::new(),
            now: begun,
            common_errors: [kelvin, composition, gravity, air],
            own: Own::default(),
            swell: 0.0025,
            tape_grown: 0.0,
            tape_aslant: 0.0,
        };
        visit.stand_up();
        visit.choose(Key::StandingHeadAt, Choice::HeadInOffset);
        visit
    }

    /// The true error of gravity (2) or of the air's density (3): the same on every day.
    pub(crate) fn common_error(&self, source: Source) -> f64 {
        self.common_errors[source]
    }

    /// Adds an error of a shape and draws it.
    pub(crate) fn source(&mut self, shape: Shape) -> (Source, f64) {
        self.shapes.push(shape);
        (self.shapes.len() - 1, self.chance.error(shape))
    }

    /// Adds an error that the world has made already, by rounding what is written.
    pub(crate) fn made(&mut self, shape: Shape) -> Source {
        self.shapes.push(shape);
        self.shapes.len() - 1
    }

    /// An error that several pieces share by its name.
    pub(crate) fn shared(&mut self, name: &'static str, standard: f64) -> (Source, f64) {
        if let Some(found) = self.named.get(name) {
            return *found;
        }
        let made = self.source(Shape::Normal(standard));
        self.named.insert(name, made);
        made
    }

    /// A surveyed mark's error.
    pub(crate) fn mark(&mut self, name: &'static str) -> (Source, f64) {
        self.shared(name, MARK)
    }

    /// A tape's error.
    pub(crate) fn tape(&mut self, name: &'static str) -> (Source, f64) {
        self.shared(name, self.site.tape)
    }

    pub(crate) fn put(&mut self, spot: Spot, text: impl Into<String>) {
        self.draft.answers.put(spot, text.into(), Moment(self.now));
    }

    pub(crate) fn choose(&mut self, key: Key, choice: Choice) {
        self.put(Spot::of(key), choice.word());
    }

    pub(crate) fn piece(&mut self, kind: PieceKind) -> PieceId {
        self.draft.add_piece(kind, Timing::Before)
    }

    /// What the display shows over a level, with what the sensor is off by there; typed at a spot. Returns what is
    /// typed in pascals, and the error of its last digit.
    pub(crate) fn reads(&mut self, spot: Spot, level: f64, sensor: f64) -> (f64, Source) {
        let truth = self.truth;
        let shown = truth.offset + truth.head + truth.gradient * level + sensor + truth.weather;
        self.types(spot, shown)
    }

    /// Types what a display shows.
    pub(crate) fn types(&mut self, spot: Spot, shown: f64) -> (f64, Source) {
        let (text, read) = self.site.written(shown);
        self.put(spot, text);
        let digit = self.made(Shape::Rectangle(self.site.step() / 2.0));
        (read, digit)
    }

    /// The shift that would be right.
    pub(crate) fn right(&self) -> f64 {
        let truth = self.truth;
        let at_zero = -(truth.zero + truth.offset + truth.head);
        at_zero + truth.reference.map_or(0.0, |one| (one - truth.gradient) * truth.level)
    }

    /// Pascals of a metre for one draw of the errors.
    pub(crate) fn gradient_of(&self, errors: &[f64]) -> f64 {
        let common = self.common;
        gradient(
            &self.site,
            [common.kelvin, common.composition, common.gravity, common.air].map(|id| errors[id]),
        )
    }
}

pub(crate) fn gradient(site: &Site, [kelvin, composition, gravity, air]: [f64; 4]) -> f64 {
    let off = site.off([kelvin, composition, gravity, air], [0.0; 4]);
    (off.liquid - off.over) * off.gravity
}
