//! What to measure next: only what this site, liquid, crew and day permit, by what it would gain for the effort.

use uom::si::f64::{Length, Pressure, Time};
use uom::si::length::meter;
use uom::si::time::minute;

use super::builder::{Built, build};
use super::{Assessment, Choice, Conditions, Draft, Key, Known, PieceKind, Spot, Timing, Today, usual};
use crate::evidence::{Agreement, Case, Input, InputId, LevelId, Reading, Spread};

/// Something that can be measured.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Measure {
    /// Read the offset on the unit.
    ReadOffset,
    /// Measure the liquid's temperature.
    Temperature,
    /// Read the display more often.
    LongerSeries,
    /// See that the tank is empty to its sill.
    KnownEmpty,
    /// Dip from the floor, with the tape named; an empty name for any.
    Dip(String),
    /// Drop from the hatch, with the tape named; an empty name for any.
    Drop(String),
    /// See how the overflow runs.
    Overflow,
    /// Hear another instrument.
    Other(String),
    /// Measure the riser with a laser.
    RiserByLaser,
    /// Measure the riser with a tape.
    RiserByTape,
    /// Make a vented check.
    Vented,
}

impl Measure {
    /// Returns about how long it takes. Common practice, no source.
    #[must_use]
    pub fn effort(&self) -> Time {
        let minutes = match self {
            Measure::ReadOffset | Measure::Temperature | Measure::LongerSeries => 3.0,
            Measure::Other(_) | Measure::Overflow => 5.0,
            Measure::KnownEmpty => 10.0,
            Measure::Dip(_) | Measure::Drop(_) | Measure::Vented | Measure::RiserByLaser => 15.0,
            Measure::RiserByTape => 30.0,
        };
        Time::new::<minute>(minutes)
    }

    /// Returns the kind of evidence it would add, if it adds one.
    #[must_use]
    pub fn adds(&self) -> Option<PieceKind> {
        match self {
            Measure::ReadOffset | Measure::Temperature | Measure::LongerSeries => None,
            Measure::KnownEmpty => Some(PieceKind::KnownEmpty),
            Measure::Dip(_) => Some(PieceKind::Dip),
            Measure::Drop(_) => Some(PieceKind::Drop),
            Measure::Overflow => Some(PieceKind::Overflow),
            Measure::Other(_) => Some(PieceKind::OtherInstrument),
            Measure::RiserByLaser | Measure::RiserByTape => Some(PieceKind::Riser),
            Measure::Vented => Some(PieceKind::Vented),
        }
    }
}

/// A measurement with what it would do.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// Which.
    pub measure: Measure,
    /// The expanded uncertainty of the level error with it.
    pub then: Length,
    /// True where two things disagree and this would tell which is wrong.
    pub settles: bool,
}

/// What to measure next.
#[derive(Debug, Clone, PartialEq)]
pub struct NextBest {
    /// The expanded uncertainty of the level error now, where the shift is determined.
    pub now: Option<Length>,
    /// True when the uncertainty is under a third of the tolerance and nothing disagrees: stop here.
    pub enough: bool,
    /// Two things disagree and nothing so far tells which is wrong.
    pub disagree: bool,
    /// What is worth its effort, best first.
    pub proposals: Vec<Proposal>,
}

/// How many proposals are shown.
const MOST: usize = 4;
/// A proposal that takes less than this off the uncertainty is not worth a walk.
const WORTH: f64 = 0.1;

impl Assessment {
    /// Works out what to measure next before the trim; nothing where there is no display reading to start from, or
    /// something stands before any shift.
    #[must_use]
    pub fn next_best(&self, draft: &Draft) -> Option<NextBest> {
        let built = build(draft, &self.known, &self.conditions, &self.entries, Timing::Before)?.ok()?;
        next_best(draft, self, &built)
    }
}

fn next_best(draft: &Draft, assessment: &Assessment, built: &Built) -> Option<NextBest> {
    let outlook = built.case.outlook(&built.ask).ok()?;
    let gradient = assessment.conditions.gradient;
    let now = outlook.now().map(|now| gradient.length(now));
    let result = assessment.shift.result.as_deref();
    let disagree = result.is_some_and(|result| result.consistency.agreement == Agreement::TwoDisagree);
    let third = assessment.known.level.tolerance / 3.0;
    let enough = !disagree && now.is_some_and(|now| now < third);
    let mut proposals = Vec::new();
    if !enough {
        let site = Site { draft, assessment, built, level: outlook.level() };
        let possible = site.possible().into_iter();
        proposals.extend(possible.filter_map(|measure| {
            let then = gradient.length(outlook.with(|case, _| site.suppose(case, &measure))?);
            let settles = disagree && outlook.settles(|case, _| site.suppose(case, &measure));
            Some(Proposal { measure, then, settles })
        }));
        let gains = |proposal: &Proposal| now.is_none_or(|now| proposal.then < now * (1.0 - WORTH));
        proposals.retain(|proposal| proposal.settles || gains(proposal));
        proposals.sort_by(|one, two| {
            two.settles.cmp(&one.settles).then(worth(two, now).total_cmp(&worth(one, now)))
        });
        proposals.truncate(MOST);
    }
    Some(NextBest { now, enough, disagree, proposals })
}

/// Gain for the effort, in metres a minute. Where nothing is determined yet all gains are the same, and what leaves the
/// least doubt for the least effort comes first.
fn worth(proposal: &Proposal, now: Option<Length>) -> f64 {
    let minutes = proposal.measure.effort().get::<minute>();
    match now {
        Some(now) => (now - proposal.then).get::<meter>() / minutes,
        None => -proposal.then.get::<meter>() * minutes,
    }
}

/// A length that a supposed level adds up from, under the name that pieces share it by.
type Part = (&'static str, Length, Spread<Length>);

/// What is known of the place and the day.
struct Site<'a> {
    draft: &'a Draft,
    assessment: &'a Assessment,
    built: &'a Built,
    level: Option<Length>,
}

impl Site<'_> {
    fn known(&self) -> &Known {
        &self.assessment.known
    }

    fn has(&self, kind: PieceKind) -> bool {
        self.draft.pieces.iter().any(|piece| piece.kind == kind && piece.timing == Timing::Before)
    }

    /// Ground only by default. A person alone is never offered a climb, whatever the register says; somebody who dipped
    /// today without being alone can reach the hatch.
    fn reaches_hatch(&self) -> bool {
        let crew = &self.draft.instrument.crew;
        let here = self.draft.answers.choice(Spot::of(Key::Crew));
        let dipped = self.has(PieceKind::Dip) || self.has(PieceKind::Drop);
        match here {
            _ if crew.hatch_from_ground => true,
            Some(Choice::TwoOrMore) => crew.climb || dipped,
            _ => false,
        }
    }

    fn possible(&self) -> Vec<Measure> {
        let mut possible = self.at_the_unit();
        possible.extend(self.at_the_tank());
        possible.extend(self.others());
        possible
    }

    fn at_the_unit(&self) -> Vec<Measure> {
        let answers = &self.draft.answers;
        let seen = matches!(
            answers.choice(Spot::of(Key::OffsetKnown)),
            Some(Choice::OffsetReadToday | Choice::OffsetClearedToday)
        );
        let refused = |piece: &&super::Piece| {
            answers.choice(Spot::piece(piece.id, Key::VentAllowed, 0)) == Some(Choice::No)
        };
        let never = self.draft.instrument.crew.never_vent
            || self.draft.instrument.liquid.harmful
            || self.draft.pieces.iter().any(|piece| refused(&piece));
        let mut possible = Vec::new();
        let mut add = |when: bool, measure| {
            if when {
                possible.push(measure);
            }
        };
        add(!seen, Measure::ReadOffset);
        add(!self.assessment.conditions.measured, Measure::Temperature);
        add(self.built.scatter.is_some(), Measure::LongerSeries);
        add(!never && !self.has(PieceKind::Vented), Measure::Vented);
        add(!self.has(PieceKind::Riser), Measure::RiserByLaser);
        possible
    }

    fn at_the_tank(&self) -> Vec<Measure> {
        let known = self.known();
        let mut possible = Vec::new();
        let near = |mark: Length| {
            let room = known.span * 0.01;
            self.level.is_some_and(|level| (level - mark).abs() < room)
        };
        // Nobody empties or fills a tank for a reference: only where the level stands there already.
        if near(known.sill) && !self.has(PieceKind::KnownEmpty) {
            possible.push(Measure::KnownEmpty);
        }
        if known.overflow.is_some_and(near) && !self.has(PieceKind::Overflow) {
            possible.push(Measure::Overflow);
        }
        if self.reaches_hatch() {
            for tape in self.tapes() {
                possible.push(Measure::Dip(tape.clone()));
                possible.extend(known.hatch.map(|_| Measure::Drop(tape)));
            }
        }
        let climbs = self.draft.instrument.crew.climb
            && self.draft.answers.choice(Spot::of(Key::Crew)) == Some(Choice::TwoOrMore);
        if climbs && !self.has(PieceKind::Riser) {
            possible.push(Measure::RiserByTape);
        }
        possible
    }

    /// A tape used today and, where there is one, another whose error it does not share.
    fn tapes(&self) -> Vec<String> {
        let used = self.built.tapes.keys().next_back().cloned();
        let other = self.known().tapes.iter().map(|tape| tape.id.clone());
        let other = other.into_iter().find(|tape| !self.built.tapes.contains_key(tape));
        let mut tapes: Vec<String> = used.into_iter().chain(other).collect();
        if tapes.is_empty() {
            tapes.push(String::new());
        }
        tapes
    }

    fn others(&self) -> Vec<Measure> {
        let heard = |name: &str| {
            let named = |piece: &super::Piece| {
                self.draft.answers.text(Spot::piece(piece.id, Key::OtherUsed, 0)).trim() == name
            };
            self.draft.pieces.iter().any(named)
        };
        let others = self.known().others.iter().filter(|other| !heard(&other.name));
        others.map(|other| Measure::Other(other.name.clone())).collect()
    }

    /// Adds a measurement to a case, with its ordinary uncertainty.
    fn suppose(&self, case: &mut Case, measure: &Measure) {
        let at = self.level.unwrap_or_default();
        match measure {
            Measure::ReadOffset => {
                let step = Spread::Rectangular(self.built.step * 0.5);
                let input = case.input(Input::pressure("offset", Pressure::default(), step));
                case.offset_is(self.built.ask.offset, input);
            }
            Measure::Temperature => self.temperature(case),
            Measure::LongerSeries => self.longer(case),
            Measure::KnownEmpty => {
                let seen = Spread::Rectangular(usual::empty_seen());
                self.level(
                    case,
                    &[("sill", self.known().sill, mark()), ("seen", Length::default(), seen)],
                    &[],
                    &[],
                );
            }
            Measure::Overflow => {
                let film = Spread::Rectangular(usual::overflow_film() * 0.5);
                self.level(
                    case,
                    &[("overflow crest", at, mark()), ("film", Length::default(), film)],
                    &[],
                    &[],
                );
            }
            Measure::Dip(tape) => {
                let tape = self.tape(case, tape);
                let floor = self.known().floor;
                self.level(case, &[("tank floor above zero", floor, mark()), dip(at - floor)], &[], &[tape]);
            }
            Measure::Drop(tape) => {
                let tape = self.tape(case, tape);
                let hatch = self.known().hatch.unwrap_or_default();
                self.level(case, &[("hatch mark above zero", hatch, mark()), dip(at - hatch)], &[tape], &[]);
            }
            Measure::Other(name) => {
                let other = self.known().others.iter().find(|other| other.name == *name);
                let expanded = other.map(|other| other.expanded).unwrap_or_default();
                self.level(
                    case,
                    &[("other", at, Spread::Expanded { half: expanded, factor: 2.0 })],
                    &[],
                    &[],
                );
            }
            Measure::RiserByLaser => self.riser(case, Choice::ByLaser),
            Measure::RiserByTape => self.riser(case, Choice::ByTape),
            Measure::Vented => self.vented(case),
        }
    }

    /// A level that lengths tell, with a reading of the display for it.
    fn level(&self, case: &mut Case, told: &[Part], minus: &[InputId], plus: &[InputId]) {
        let level: LevelId = case.level();
        let step = Spread::Rectangular(self.built.step * 0.5);
        let shown = case.input(Input::pressure("display", Pressure::default(), step));
        let mut parts = vec![shown, self.built.accuracy];
        parts.extend(self.built.marks.get("vent"));
        let (offset, column) = (self.built.ask.offset, self.built.ask.column);
        case.reading(&Reading { offset, level, column, parts, elapsed: None, lag: None });
        let mut plus = plus.to_vec();
        for (name, at, spread) in told {
            let same = self.built.marks.get(name).copied();
            plus.push(same.unwrap_or_else(|| case.input(Input::length(*name, *at, *spread))));
        }
        let by = case.reference("supposed");
        case.level_is(by, level, &plus, minus);
    }

    fn tape(&self, case: &mut Case, name: &str) -> InputId {
        let known = self.known().tapes.iter().find(|tape| tape.id == name);
        let standard = known.map_or(usual::unnamed_tape(), |tape| tape.standard);
        let used = self.built.tapes.get(name).copied();
        used.unwrap_or_else(|| {
            case.input(Input::length("tape", Length::default(), Spread::Standard(standard)))
        })
    }

    fn riser(&self, case: &mut Case, how: Choice) {
        let standard = Spread::Standard(Known::riser_standard(how));
        let height = case.input(Input::length("riser", self.known().riser, standard));
        let by = case.reference("supposed");
        case.riser(by, &[(self.built.ask.column, height)]);
    }

    fn vented(&self, case: &mut Case) {
        let step = Spread::Rectangular(self.built.step * 0.5);
        let half = self.known().sensor.accuracy;
        let shown = case.input(Input::pressure("vented", Pressure::default(), step));
        let own = Spread::Expanded { half, factor: 2.0 };
        let own = case.input(Input::pressure("accuracy", Pressure::default(), own));
        let by = case.reference("supposed");
        case.vented(by, self.built.ask.offset, &[shown, own], &[]);
    }

    fn temperature(&self, case: &mut Case) {
        let today = Today { liquid: Some(self.known().temperature), ..Today::default() };
        let Ok(measured) = Conditions::today(self.known(), today) else { return };
        let standard = Spread::Standard(measured.density_standard);
        let density = Input::density("density", self.assessment.conditions.density, standard);
        case.restate(self.built.ask.column.density(), density);
    }

    /// Ten readings more: the mean of a series gets surer by the root of how many there are.
    fn longer(&self, case: &mut Case) {
        let Some((scatter, count, standard)) = self.built.scatter else { return };
        let standard = Spread::Standard(standard * libm::sqrt(count / (count + 10.0)));
        case.restate(scatter, Input::pressure("scatter", Pressure::default(), standard));
    }
}

fn mark() -> Spread<Length> {
    Spread::Standard(usual::mark())
}

/// Three dips: their scatter is what one shows as a rule, over the root of three.
fn dip(at: Length) -> Part {
    ("dips", at, Spread::Standard(usual::one_dip() / libm::sqrt(3.0)))
}
