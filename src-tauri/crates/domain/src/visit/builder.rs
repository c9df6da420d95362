//! The visit's evidence as a case of independent inputs and equations.

use std::collections::BTreeMap;

use uom::si::f64::{Length, Pressure, Time};
use uom::si::time::second;

use super::conditions::Conditions;
use super::entries::Entries;
use super::known::Known;
use super::{
    Choice, Draft, Key, Moment, Piece, PieceId, PieceKind, Spot, Timing, asks::MOST_DIPS, moment, usual,
};
use crate::evidence::{
    Ask, Carried, Case, Column, EvidenceError, Input, InputId, LevelId, OffsetId, Reading, ReferenceId,
    Repeat, Repeats, Rule, Spread,
};

/// A case built from a visit, and what is asked of it.
pub(super) struct Built {
    pub(super) case: Case,
    pub(super) ask: Ask,
    /// Which reference stands for which piece.
    pub(super) references: Vec<(PieceId, ReferenceId)>,
    /// When the display the trim starts from was read.
    pub(super) read_at: Moment,
    /// The level that the evidence speaks of, if any does.
    pub(super) level: Option<LevelId>,
}

/// Builds the case, or tells that there is no display reading to start from.
pub(super) fn build(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    timing: Timing,
) -> Option<Result<Built, EvidenceError>> {
    let mut builder = Builder::new(draft, known, conditions, entries);
    let standing = builder.standing(timing)?;
    let built =
        draft.pieces.iter().filter(|piece| piece.timing == timing).try_for_each(|piece| builder.piece(piece));
    Some(built.map(|()| builder.finish(standing)))
}

/// A display reading that stands for the visit: what it showed, when, in which state of the unit.
#[derive(Clone, Copy)]
struct Standing {
    pressure: Pressure,
    at: Moment,
    offset: OffsetId,
}

struct Builder<'a> {
    draft: &'a Draft,
    known: &'a Known,
    entries: &'a Entries,
    gradient: crate::head::Gradient,
    case: Case,
    column: Column,
    accuracy: InputId,
    shared_level: Option<LevelId>,
    now: Option<Standing>,
    references: Vec<(PieceId, ReferenceId)>,
    marks: BTreeMap<&'static str, InputId>,
    tapes: BTreeMap<String, InputId>,
    level: Option<LevelId>,
    lag: Option<InputId>,
}

/// A time from one moment to another, as known by when things were entered.
fn elapsed(from: f64, to: Moment) -> Time {
    #[allow(clippy::cast_precision_loss)] // Milliseconds of a visit are far below 2^53.
    Time::new::<second>((to.0 as f64 - from) / 1000.0)
}

impl<'a> Builder<'a> {
    fn new(draft: &'a Draft, known: &'a Known, conditions: &Conditions, entries: &'a Entries) -> Builder<'a> {
        let mut case = Case::new();
        let why = if conditions.measured { "measured today" } else { "season's temperature" };
        let density = Input::density(
            format!("density of the liquid ({why})"),
            conditions.density,
            Spread::Standard(conditions.density_standard),
        );
        let density = case.input(density);
        let gravity = Input::acceleration(
            "local gravity",
            conditions.gravity,
            Spread::Standard(conditions.gravity_standard),
        );
        let gravity = case.input(gravity);
        let air =
            Input::density("air beside the riser", conditions.air, Spread::Standard(conditions.air_standard));
        let air = case.input(air);
        let mut column = Column::new(density, gravity).against(air);
        let scale = known.unit.relative_uncertainty().get::<uom::si::ratio::ratio>();
        if scale > 0.0 {
            let scale = Input::ratio("definition of the display's unit", 1.0, Spread::Standard(scale));
            column = column.shown_by(case.input(scale));
        }
        let half = known.sensor.accuracy;
        let accuracy = Input::pressure(
            "sensor accuracy under head",
            Pressure::default(),
            Spread::Expanded { half, factor: 2.0 },
        );
        let accuracy = case.input(accuracy);
        let gradient = conditions.gradient;
        Builder {
            draft,
            known,
            entries,
            gradient,
            case,
            column,
            accuracy,
            shared_level: None,
            now: None,
            references: Vec::new(),
            marks: BTreeMap::new(),
            tapes: BTreeMap::new(),
            level: None,
            lag: None,
        }
    }

    /// The display reading that stands for the visit, with the states of the unit before it.
    fn standing(&mut self, timing: Timing) -> Option<Standing> {
        let standing = match timing {
            Timing::Before => self.standing_before()?,
            Timing::After => {
                let offset = self.case.offset(Carried::Unknown);
                self.display(Spot::of(Key::DisplayLeft), offset)?
            }
        };
        let damping = self.entries.number(Key::Damping).filter(|seconds| *seconds > 0.0);
        self.lag = damping.map(|seconds| {
            let lag = Time::new::<second>(seconds);
            self.case.input(Input::time("damping of the display", lag, Spread::Rectangular(lag * 0.2)))
        });
        self.now = Some(standing);
        self.blocked_vent();
        Some(standing)
    }

    fn standing_before(&mut self) -> Option<Standing> {
        let found = self.carried();
        if self.draft.answers.choice(Spot::of(Key::OffsetKnown)) == Some(Choice::OffsetClearedToday) {
            let zero = Input::pressure("offset cleared today", Pressure::default(), Spread::Exact);
            let zero = self.case.input(zero);
            let cleared = self.case.offset(Carried::Known(zero));
            return self.display(Spot::of(Key::DisplayCleared), cleared);
        }
        let bled = self.display(Spot::of(Key::DisplayAfterBleed), found);
        bled.or_else(|| self.display(Spot::of(Key::Display), found))
    }

    fn display(&self, spot: Spot, offset: OffsetId) -> Option<Standing> {
        let (pressure, _) = self.entries.reading(spot)?;
        let at = self.draft.answers.get(spot)?.at;
        Some(Standing { pressure, at, offset })
    }

    /// The state of the unit as found, with what is known of its offset.
    fn carried(&mut self) -> OffsetId {
        let answer = self.draft.answers.choice(Spot::of(Key::OffsetKnown));
        let typed = self.entries.reading(Spot::of(Key::OffsetValue));
        let carried = match (answer, typed) {
            (Some(Choice::OffsetReadToday | Choice::OffsetClearedToday), Some((value, step))) => {
                let input =
                    Input::pressure("offset read on the unit", value, Spread::Rectangular(step * 0.5));
                Carried::Known(self.case.input(input))
            }
            (Some(Choice::OffsetFromRecord), typed) => {
                match typed.map(|(value, _)| value).or_else(|| self.recorded()) {
                    Some(value) => {
                        // What stood in a record may have been touched since: the allowance on the zero stands for that.
                        let half = self.known.sensor.zero_allowance;
                        let input =
                            Input::pressure("offset by the last record", value, Spread::Rectangular(half));
                        Carried::OnRecord(self.case.input(input))
                    }
                    None => Carried::Unknown,
                }
            }
            _ => Carried::Unknown,
        };
        self.case.offset(carried)
    }

    fn recorded(&self) -> Option<Pressure> {
        self.known.offset_on_record.map(|value| self.known.unit.pressure(value, self.gradient))
    }

    /// A blocked or wet vent lets the weather into every reading, alike.
    fn blocked_vent(&mut self) {
        if self.draft.answers.choice(Spot::of(Key::VentLooked)) == Some(Choice::VentBlocked) {
            let half = self.gradient.pressure(usual::blocked_vent());
            let input =
                Input::pressure("blocked or wet vent path", Pressure::default(), Spread::Rectangular(half));
            self.accuracy_also(input);
        }
    }

    fn accuracy_also(&mut self, input: Input) {
        let id = self.case.input(input);
        self.marks.insert("vent", id);
    }

    /// What adds up to a display reading: the number, its step, and what the sensor may be off by under head.
    fn shown(&mut self, pressure: Pressure, step: Pressure, label: &str, under_head: bool) -> Vec<InputId> {
        let mut parts =
            vec![self.case.input(Input::pressure(label, pressure, Spread::Rectangular(step * 0.5)))];
        if under_head {
            parts.push(self.accuracy);
        }
        parts.extend(self.marks.get("vent").copied());
        parts
    }

    fn piece(&mut self, piece: &Piece) -> Result<(), EvidenceError> {
        match piece.kind {
            PieceKind::KnownEmpty => self.known_empty(piece),
            PieceKind::Dip | PieceKind::Drop => return self.dips(piece),
            PieceKind::Riser => self.riser(piece),
            PieceKind::Vented => self.vented(piece),
        }
        Ok(())
    }

    fn mark(&mut self, name: &'static str, at: Length) -> InputId {
        if let Some(id) = self.marks.get(name) {
            return *id;
        }
        let spread = if at == Length::default() { Spread::Exact } else { Spread::Standard(usual::mark()) };
        let id = self.case.input(Input::length(name, at, spread));
        self.marks.insert(name, id);
        id
    }

    fn known_empty(&mut self, piece: &Piece) {
        let half = match self.draft.answers.choice(Spot::piece(piece.id, Key::EmptySeen, 0)) {
            Some(Choice::SillSeen) => usual::empty_seen(),
            Some(Choice::EmptyBySteadyReading) => usual::empty_by_steady_reading(),
            Some(Choice::EmptyByReport) => usual::empty_by_report(),
            _ => return,
        };
        let by = self.reference(piece, "tank known empty");
        let sill = self.mark("outlet sill", self.known.sill);
        let seen = Input::length("how the empty tank was seen", Length::default(), Spread::Rectangular(half));
        let seen = self.case.input(seen);
        let level = self.level_for(piece, None, false);
        self.case.level_is(by, level, &[sill, seen], &[]);
    }

    fn dips(&mut self, piece: &Piece) -> Result<(), EvidenceError> {
        let rows = self.dip_rows(piece);
        if !rows.iter().any(|row| row.repeat.set_aside.is_none()) {
            return Ok(());
        }
        let repeats: Vec<Repeat> = rows.iter().map(|row| row.repeat.clone()).collect();
        let taken = Repeats::of(&repeats, usual::one_dip())?;
        let counting = || rows.iter().filter(|row| row.repeat.set_aside.is_none());
        let step = counting().map(|row| row.step).fold(usual::tape_division(), Length::min);
        let name = if piece.kind == PieceKind::Dip { "dip" } else { "drop" };
        let by = self.reference(piece, name);
        let mean = Input::length(format!("{name}, mean of {}", taken.count), taken.mean, taken.spread);
        let mean = self.case.input(mean);
        let read = Input::length("tape as read", Length::default(), Spread::Rectangular(step * 0.5));
        let read = self.case.input(read);
        let tape = self.tape(piece);
        let middle =
            counting().map(|row| milliseconds(row.at)).sum::<f64>() / milliseconds_count(counting().count());
        let level = self.level_for(piece, Some(middle), true);
        let line = self.straightness(piece);
        if piece.kind == PieceKind::Dip {
            let floor = self.mark("tank floor above zero", self.known.floor);
            self.case.level_is(by, level, &[floor, mean, read, tape, line], &[]);
        } else if let Some(hatch) = self.known.hatch {
            let hatch = self.mark("hatch mark above zero", hatch);
            self.case.level_is(by, level, &[hatch, line], &[mean, read, tape]);
        }
        Ok(())
    }

    /// What a straight line between the readings before and after may miss of a moving level: a quarter of the change
    /// (see [`crate::evidence::Bracket::straightness`]); nothing where only one was read.
    fn straightness(&mut self, piece: &Piece) -> InputId {
        let read = |key| self.entries.reading(Spot::piece(piece.id, key, 0)).map(|(reading, _)| reading);
        let change = match (read(Key::ReadingBefore), read(Key::ReadingAfter)) {
            (Some(before), Some(after)) => self.gradient.length(after - before).abs(),
            _ => Length::default(),
        };
        let spread =
            if change == Length::default() { Spread::Exact } else { Spread::Rectangular(change * 0.25) };
        self.case.input(Input::length("level between the readings", Length::default(), spread))
    }

    fn tape(&mut self, piece: &Piece) -> InputId {
        let id = self.draft.answers.text(Spot::piece(piece.id, Key::TapeUsed, 0)).trim().to_owned();
        if let Some(input) = self.tapes.get(&id) {
            return *input;
        }
        let tape = self.known.tapes.iter().find(|tape| tape.id == id);
        let standard = tape.map_or(usual::unnamed_tape(), |tape| {
            let overdue = moment::overdue(&tape.due, self.draft.begun);
            if overdue { tape.standard * usual::OVERDUE } else { tape.standard }
        });
        let label = if id.is_empty() { "tape, not named".to_owned() } else { format!("tape {id}") };
        let input = self.case.input(Input::length(label, Length::default(), Spread::Standard(standard)));
        self.tapes.insert(id, input);
        input
    }

    fn riser(&mut self, piece: &Piece) {
        let Some((height, step)) = self.entries.piece_length(piece.id, Key::RiserHeight, 0) else { return };
        let how = self.draft.answers.choice(Spot::piece(piece.id, Key::RiserHow, 0));
        let Some(how) = how else { return };
        let by = self.reference(piece, "measured riser");
        let standard = Known::riser_standard(how).max(step / libm::sqrt(12.0));
        let height = self.case.input(Input::length("riser height", height, Spread::Standard(standard)));
        self.case.riser(by, &[(self.column, height)]);
    }

    fn vented(&mut self, piece: &Piece) {
        let Some((pressure, step)) = self.entries.reading(Spot::piece(piece.id, Key::VentedReading, 0))
        else {
            return;
        };
        let Some(now) = self.now else { return };
        let by = self.reference(piece, "vented check");
        let mut parts = self.shown(pressure, step, "vented reading", false);
        let half = self.known.sensor.accuracy;
        let own = Input::pressure(
            "sensor accuracy at atmosphere",
            Pressure::default(),
            Spread::Expanded { half, factor: 2.0 },
        );
        parts.push(self.case.input(own));
        self.case.vented(by, now.offset, &parts, &[]);
    }

    fn reference(&mut self, piece: &Piece, label: &str) -> ReferenceId {
        let by = self.case.reference(label);
        self.references.push((piece.id, by));
        by
    }

    /// The level a piece speaks of: its own where the display was read for it, else the one the standing reading saw.
    fn level_for(&mut self, piece: &Piece, taken: Option<f64>, under_head: bool) -> LevelId {
        let spots = [Key::ReadingBefore, Key::ReadingAfter].map(|key| Spot::piece(piece.id, key, 0));
        let read: Vec<Spot> =
            spots.into_iter().filter(|spot| self.entries.reading(*spot).is_some()).collect();
        let level = if read.is_empty() {
            match self.shared_level {
                Some(level) => level,
                None => self.share_level(under_head),
            }
        } else {
            let level = self.case.level();
            for spot in &read {
                self.own_reading(*spot, level, taken.filter(|_| read.len() == 2), under_head);
            }
            level
        };
        self.level = Some(level);
        level
    }

    fn share_level(&mut self, under_head: bool) -> LevelId {
        let level = self.case.level();
        if let Some(now) = self.now {
            let step = self.standing_step();
            let parts = self.shown(now.pressure, step, "display", under_head);
            self.case.reading(&Reading {
                offset: now.offset,
                level,
                column: self.column,
                parts,
                elapsed: None,
                lag: None,
            });
            self.shared_level = Some(level);
        }
        level
    }

    fn standing_step(&self) -> Pressure {
        let keys = [Key::DisplayLeft, Key::DisplayCleared, Key::DisplayAfterBleed, Key::Display];
        let now = self.now.map(|now| now.pressure);
        let same = keys.iter().filter_map(|key| self.entries.reading(Spot::of(*key)));
        let step = same.filter(|(pressure, _)| Some(*pressure) == now).map(|(_, step)| step).next();
        step.unwrap_or_default()
    }

    fn own_reading(&mut self, spot: Spot, level: LevelId, taken: Option<f64>, under_head: bool) {
        let (Some((pressure, step)), Some(now)) = (self.entries.reading(spot), self.now) else { return };
        let Some(at) = self.draft.answers.get(spot).map(|answer| answer.at) else { return };
        let label = if spot.key == Key::ReadingBefore { "display before" } else { "display after" };
        let parts = self.shown(pressure, step, label, under_head);
        let elapsed = taken.map(|taken| {
            let time = elapsed(taken, at);
            self.case.input(Input::time(
                "time between reading and reference",
                time,
                Spread::Rectangular(usual::entered()),
            ))
        });
        let lag = elapsed.and(self.lag);
        self.case.reading(&Reading { offset: now.offset, level, column: self.column, parts, elapsed, lag });
        if at >= now.at {
            self.now = Some(Standing { pressure, at, ..now });
        }
    }

    fn finish(mut self, standing: Standing) -> Built {
        if self.shared_level.is_none() && self.level.is_none() {
            // No reference speaks of a level: the display still sees one.
            self.share_level(true);
        }
        let half = self.known.sensor.zero_allowance;
        let allowance = Input::pressure(
            "the sensor's own zero, taken as true within its allowance",
            Pressure::default(),
            Spread::Rectangular(half),
        );
        let allowance = self.case.input(allowance);
        self.case.allow_zero(&[allowance, self.accuracy]);
        let now = self.now.unwrap_or(standing);
        let ask = Ask {
            offset: now.offset,
            display: now.pressure,
            rule: self.rule(),
            target: self.known.zero_reading(self.gradient),
            column: self.column,
        };
        Built {
            case: self.case,
            ask,
            references: self.references,
            read_at: now.at,
            level: self.level.or(self.shared_level),
        }
    }

    fn rule(&self) -> Rule {
        let chosen = self.known.rule.or_else(|| self.draft.answers.choice(Spot::of(Key::TrimRule)));
        match (chosen, self.level, self.known.unit.length_unit()) {
            (Some(Choice::TrueAtReference), Some(level), Some(unit)) => Rule::TrueAtReference {
                level,
                shown: self.known.unit.one(self.gradient),
                length: unit.length(1.0),
            },
            _ => Rule::TrueAtZero,
        }
    }
}

/// One repeat with what its writing resolves and when it was entered.
pub(super) struct DipRow {
    pub(super) repeat: Repeat,
    pub(super) step: Length,
    pub(super) at: Moment,
}

impl Builder<'_> {
    fn dip_rows(&self, piece: &Piece) -> Vec<DipRow> {
        dip_rows(self.draft, self.entries, piece)
    }
}

/// Returns the repeats of a dip or drop as entered.
pub(super) fn dip_rows(draft: &Draft, entries: &Entries, piece: &Piece) -> Vec<DipRow> {
    let row = |row: u32| {
        let spot = Spot::piece(piece.id, Key::Dip, row);
        let (length, step) = entries.length(spot)?;
        let at = draft.answers.get(spot)?.at;
        let aside = draft.answers.get(Spot::piece(piece.id, Key::DipSetAside, row));
        let repeat = Repeat { length, set_aside: aside.map(|answer| answer.text.clone()) };
        Some(DipRow { repeat, step, at })
    };
    (0..MOST_DIPS).filter_map(row).collect()
}

#[allow(clippy::cast_precision_loss)] // Milliseconds since 1970 stay far below 2^53.
fn milliseconds(moment: Moment) -> f64 {
    moment.0 as f64
}

#[allow(clippy::cast_precision_loss)] // At most twenty dips.
fn milliseconds_count(count: usize) -> f64 {
    count.max(1) as f64
}
