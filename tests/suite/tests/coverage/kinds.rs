//! The kinds of evidence: what is done in a visit of each, and the ways it opens to the shift.

use domain::visit::{Choice, Key, PieceKind, Spot};

use crate::chance::Shape;
use crate::mount;
use crate::site::{Line, METRES_OF_WATER, Site};
use crate::visit::{Source, Visit};

/// A kind of evidence.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Kind {
    pub(crate) name: &'static str,
    bring: fn(&mut Visit),
    /// Every line normal and known.
    pub(crate) fine: bool,
    /// The sensor's zero is trusted to a pascal.
    trusted: bool,
    /// The line of the register that states half of what is true.
    pub(crate) halved: Option<Line>,
    rule: &'static str,
    shape: fn(&mut Site),
}

const fn kind(name: &'static str, bring: fn(&mut Visit)) -> Kind {
    Kind { name, bring, fine: false, trusted: false, halved: None, rule: "true_at_zero", shape: |_| {} }
}

pub(crate) const KNOWN_EMPTY: Kind =
    kind("known empty, sill seen", |visit| visit.empty(Choice::SillSeen, 0.005));
pub(crate) const EMPTY_BY_STEADY_READING: Kind =
    kind("known empty, steady reading", |visit| visit.empty(Choice::EmptyBySteadyReading, 0.020));
pub(crate) const EMPTY_BY_REPORT: Kind =
    kind("known empty, on somebody's word", |visit| visit.empty(Choice::EmptyByReport, 0.060));
pub(crate) const DIP: Kind = kind("one dip", |visit| visit.standing_dip(1));
pub(crate) const THREE_DIPS: Kind = kind("three dips", |visit| visit.standing_dip(3));
pub(crate) const DIPS_IN_A_SWELL: Kind = kind("three dips in a swell", |visit| {
    visit.swell = 0.020;
    visit.standing_dip(3);
});
pub(crate) const DROP: Kind = kind("one drop from the hatch", Visit::drop);
pub(crate) const TRUE_AT_REFERENCE: Kind = Kind {
    rule: "true_at_reference",
    shape: |site| site.unit = METRES_OF_WATER,
    ..kind("three dips, true at the reference", Visit::dip_at_reference)
};
pub(crate) const RISER_AND_OFFSET_READ: Kind =
    kind("riser, offset read", |visit| visit.riser_and_offset(true));
pub(crate) const RISER_AND_OFFSET_CLEARED: Kind = kind("riser, offset cleared", Visit::riser_and_cleared);
pub(crate) const RISER_AND_OFFSET_ON_RECORD: Kind =
    kind("riser, offset on record", |visit| visit.riser_and_offset(false));
pub(crate) const RISER_AND_VENTED: Kind = kind("riser and vented check, offset unknown", |visit| {
    visit.stand(Choice::OffsetUnknown);
    visit.riser_and_vented();
});
pub(crate) const LASER_AND_VENTED: Kind = kind("riser by laser and vented check", |visit| {
    visit.stand(Choice::OffsetUnknown);
    let riser = visit.riser_by(Choice::ByLaser, 0.004);
    visit.vented_over(riser, None);
});
pub(crate) const DRAWING_AND_VENTED: Kind = kind("riser off a drawing and vented check", |visit| {
    visit.stand(Choice::OffsetUnknown);
    let riser = visit.riser_by(Choice::ByDrawing, 0.025);
    visit.vented_over(riser, None);
});
pub(crate) const READ_AGAIN: Kind = kind("display read six times, one dip", Visit::read_again);
pub(crate) const WARM_DIP: Kind = kind("one dip, its tape warm and pulled", Visit::warm_dip);
pub(crate) const SLANTED_DIP: Kind = kind("one dip, its line off plumb", Visit::slanted_dip);
pub(crate) const FLOWING_DIP: Kind = kind("one dip, water drawn through the riser", Visit::flowing_dip);
pub(crate) const FLOWING_AT_SOME_RATE: Kind = kind("one dip, water drawn at a rate nobody knows", |visit| {
    visit.dip_over_some_flow(Choice::FlowDrawing);
});
pub(crate) const FLOWING_OR_NOT: Kind = kind("one dip, nobody knows whether water runs", |visit| {
    visit.dip_over_some_flow(Choice::FlowNotKnown);
});
pub(crate) const TWO_DIPS: Kind = kind("two levels dipped, each with its tape", |visit| {
    visit.standing_dip(1);
    visit.second_level();
});
pub(crate) const DIP_AND_RISER: Kind = kind("dip and riser, offset read", |visit| {
    visit.offset_read();
    visit.standing_dip(1);
    visit.riser();
});
pub(crate) const DIP_RISER_VENTED: Kind = kind("dip, riser and vented check", |visit| {
    visit.standing_dip(1);
    visit.riser_and_vented();
});
pub(crate) const MOVING_LEVEL: Kind = kind("moving level: read, dip three times, read", Visit::moving);
pub(crate) const BLOCKED_VENT: Kind = kind("one dip, vent blocked", |visit| {
    visit.block_vent();
    visit.standing_dip(1);
});
pub(crate) const EARLIER_AND_OFFSET_READ: Kind =
    kind("earlier visit, offset read", Visit::earlier_and_offset);
pub(crate) const EARLIER_AND_DROP: Kind =
    kind("earlier visit and a drop by the same hatch and tape", Visit::earlier_and_drop);
pub(crate) const OVERFLOW_FILM: Kind = kind("overflow running, a film", |visit| visit.overflow(false));
pub(crate) const OVERFLOW_HEAD: Kind =
    kind("overflow running, its head measured", |visit| visit.overflow(true));
pub(crate) const OTHER_INSTRUMENT: Kind = kind("another instrument, of its own uncertainty", |visit| {
    visit.stand(Choice::OffsetUnknown);
    visit.other(false);
});
pub(crate) const OTHER_BY_HATCH: Kind = kind("another instrument from the hatch, and a drop", |visit| {
    visit.drop();
    visit.other(true);
});
pub(crate) const OTHER_BY_DENSITY: Kind =
    kind("another instrument by pressure, riser and vented check", |visit| {
        visit.stand(Choice::OffsetUnknown);
        visit.other_by_density();
        visit.riser_and_vented();
    });
pub(crate) const VENTED_WITH_STUB: Kind = kind("riser and vented check over a stub of water", |visit| {
    visit.stand(Choice::OffsetUnknown);
    let riser = visit.riser();
    visit.vented_over(riser, Some(0.010));
});
pub(crate) const CARRIED_DIP: Kind = kind("one dip, carried by the drift of the display", Visit::carried_dip);
pub(crate) const WET_LEG_AND_DIP: Kind =
    Kind { shape: mount::wet_leg, ..kind("wet leg, one dip", |visit| visit.standing_dip(1)) };
pub(crate) const WET_LEG_AND_OFFSET_READ: Kind =
    by_heights("wet leg by its heights, offset read", mount::wet_leg);
pub(crate) const ONE_SEAL_AND_OFFSET_READ: Kind =
    by_heights("one seal by its heights, offset read", mount::one_seal);
pub(crate) const TWO_SEALS_AND_OFFSET_READ: Kind =
    by_heights("two seals by their heights, offset read", mount::two_seals);
pub(crate) const ABOVE_AND_VENTED: Kind =
    by_zero("above the datum, height and vented check", mount::above_datum);
pub(crate) const OWN_LINE_AND_VENTED: Kind =
    by_zero("riser warmer than its tank, and vented check", mount::own_line);
pub(crate) const PROBE_AND_VENTED: Kind = by_zero("probe by its height and vented check", mount::probe);
pub(crate) const DRY_LEG_AND_EQUALISED: Kind = by_zero("dry leg, height and equalised zero", mount::dry_leg);
pub(crate) const WET_LEG_AND_EQUALISED: Kind = by_zero("wet leg, height and equalised zero", mount::wet_leg);
pub(crate) const INTERFACE_AND_EQUALISED: Kind =
    by_zero("interface, height and equalised zero", mount::interface);
pub(crate) const INTERFACE_AND_OTHER: Kind = Kind {
    shape: mount::interface,
    ..kind("interface, another instrument", |visit| {
        visit.stand(Choice::OffsetUnknown);
        visit.other(false);
    })
};

/// By the heights of a mounting, with its zero taken on trust.
const fn by_heights(name: &'static str, shape: fn(&mut Site)) -> Kind {
    Kind { shape, ..kind(name, |visit| visit.riser_and_offset(true)) }
}

/// By the heights of a mounting, with its zero seen.
const fn by_zero(name: &'static str, shape: fn(&mut Site)) -> Kind {
    let bring = |visit: &mut Visit| {
        visit.stand(Choice::OffsetUnknown);
        visit.riser_and_vented();
    };
    Kind { shape, ..kind(name, bring) }
}

pub(crate) const EVERYTHING: Kind = kind("empty, dip, drop, riser and vented check", |visit| {
    visit.standing_dip(3);
    visit.empty_later();
    visit.drop_later();
    visit.riser_and_vented();
});

impl Kind {
    /// The same with every line normal and known.
    pub(crate) fn normal(self) -> Kind {
        Kind { fine: true, ..self }
    }

    /// The same with a zero that is trusted to a pascal, so that the rectangle it is trusted by does not count.
    pub(crate) fn trusted(self) -> Kind {
        Kind { trusted: true, ..self }
    }

    /// The same with a line of the register that states half of what is true.
    pub(crate) fn halving(self, line: Line) -> Kind {
        Kind { halved: Some(line), ..self }
    }

    /// One visit of this kind.
    pub(crate) fn visit(&self, seed: u64) -> Visit {
        let mut visit = Visit::begin(seed, self.fine, self.rule, |site| {
            (self.shape)(site);
            site.allowance = if self.trusted { 1.0 } else { site.allowance };
            site.halved = self.halved;
        });
        (self.bring)(&mut visit);
        visit
    }
}

/// A level as told by a tape: the best value and the errors it has.
pub(crate) struct Told {
    pub(crate) level: f64,
    pub(crate) plus: Vec<Source>,
    pub(crate) minus: Vec<Source>,
}

impl Visit {
    /// The display as found, over the level of the day.
    pub(crate) fn stand(&mut self, offset: Choice) -> (f64, Source) {
        self.choose(Key::OffsetKnown, offset);
        self.reads(Spot::of(Key::Display), self.truth.level, self.truth.under_head)
    }

    pub(crate) fn offset_read(&mut self) -> (f64, Source) {
        let typed = self.types(Spot::of(Key::OffsetValue), self.truth.offset);
        self.choose(Key::OffsetKnown, Choice::OffsetReadToday);
        typed
    }

    fn block_vent(&mut self) {
        self.choose(Key::VentLooked, Choice::VentBlocked);
        let half = 0.102 * self.site.gradient();
        let (source, weather) = self.source(Shape::Rectangle(half));
        self.truth.weather = weather;
        self.weather.push(source);
    }

    /// The way by a reading under head over a level that something tells.
    pub(crate) fn way_by_level(&mut self, reading: (f64, Source), told: Told, under_head: bool) {
        let (read, digit) = reading;
        let (accuracy, weather) = (self.common.accuracy, self.weather.clone());
        let reference = self.truth.reference;
        self.ways.push(Box::new(move |drawn| {
            let level = told.level + drawn.sum(&told.plus) - drawn.sum(&told.minus);
            let own = if under_head { drawn.errors[accuracy] } else { 0.0 };
            let shown = read + drawn.errors[digit] + own - drawn.sum(&weather);
            level * reference.unwrap_or(drawn.gradient) - shown
        }));
    }

    fn empty(&mut self, seen: Choice, half: f64) {
        let mark = self.mark("sill");
        let near = self.source(Shape::Rectangle(half));
        let level = self.site.sill + mark.1 + near.1;
        self.choose(Key::OffsetKnown, Choice::OffsetUnknown);
        let reading = self.reads(Spot::of(Key::Display), level, self.truth.zero);
        let piece = self.piece(PieceKind::KnownEmpty);
        self.put(Spot::piece(piece, Key::EmptySeen, 0), seen.word());
        let told = Told { level: self.site.sill, plus: vec![mark.0, near.0], minus: Vec::new() };
        self.way_by_level(reading, told, false);
    }

    /// After the level of the day the tank is run empty.
    fn empty_later(&mut self) {
        let mark = self.mark("sill");
        let near = self.source(Shape::Rectangle(0.005));
        let piece = self.piece(PieceKind::KnownEmpty);
        self.put(Spot::piece(piece, Key::EmptySeen, 0), Choice::SillSeen.word());
        let level = self.site.sill + mark.1 + near.1;
        let spot = Spot::piece(piece, Key::ReadingBefore, 0);
        let reading = self.reads(spot, level, self.truth.zero);
        let told = Told { level: self.site.sill, plus: vec![mark.0, near.0], minus: Vec::new() };
        self.way_by_level(reading, told, false);
    }

    /// Dips a level so many times with a tape from the floor, and returns what that tells. `apart` is how far the
    /// level stands from its mean at each dip.
    pub(crate) fn dips(&mut self, kind: PieceKind, level: f64, tape: &'static str, apart: &[f64]) -> Told {
        let down = kind == PieceKind::Drop;
        let (mark, height) = if down { ("hatch", self.site.hatch) } else { ("floor", self.site.floor) };
        let (mark, off) = self.mark(mark);
        let (error, tape_off) = self.tape(tape);
        let piece = self.draft.pieces.last().unwrap().id;
        self.put(Spot::piece(piece, Key::TapeUsed, 0), tape);
        // Where one dip must lean on the usual scatter it has it; several show their own.
        let scatter = if apart.len() == 1 { 0.005 } else { self.swell };
        let begun = self.now;
        let mut read = Vec::new();
        for (row, apart) in (0..).zip(apart) {
            self.now = begun + 30_000 * i64::from(row);
            let surface = level + apart + scatter * self.chance.normal();
            let from_mark = if down { height + off - surface } else { surface - height - off };
            let (text, length, _) =
                self.site.length((from_mark + self.tape_aslant - tape_off) / (1.0 + self.tape_grown));
            self.put(Spot::piece(piece, Key::Dip, row), text);
            read.push(length);
        }
        let (mean, shape) = mean(&read);
        let scatter = self.made(shape);
        let step = self.site.length(0.0).2;
        let digit = self.made(Shape::Rectangle(step / 2.0));
        let tape = vec![error, scatter, digit];
        if down {
            Told { level: height - mean, plus: vec![mark], minus: tape }
        } else {
            Told { level: height + mean, plus: [vec![mark], tape].concat(), minus: Vec::new() }
        }
    }

    pub(crate) fn standing_dip(&mut self, many: usize) {
        let known = self.draft.answers.choice(Spot::of(Key::OffsetKnown));
        let reading = self.stand(known.unwrap_or(Choice::OffsetUnknown));
        self.piece(PieceKind::Dip);
        let told = self.dips(PieceKind::Dip, self.truth.level, "A", &vec![0.0; many]);
        self.way_by_level(reading, told, true);
    }

    fn dip_at_reference(&mut self) {
        self.truth.reference = Some(self.site.one());
        self.standing_dip(3);
    }

    fn drop(&mut self) {
        let reading = self.stand(Choice::OffsetUnknown);
        self.piece(PieceKind::Drop);
        let told = self.dips(PieceKind::Drop, self.truth.level, "A", &[0.0]);
        self.way_by_level(reading, told, true);
    }

    fn drop_later(&mut self) {
        let level = self.truth.level * 0.7;
        let piece = self.piece(PieceKind::Drop);
        let reading = self.reads(Spot::piece(piece, Key::ReadingBefore, 0), level, self.truth.under_head);
        let told = self.dips(PieceKind::Drop, level, "B", &[0.0, 0.0]);
        self.way_by_level(reading, told, true);
    }

    fn second_level(&mut self) {
        let level = self.truth.level * 0.5;
        let piece = self.piece(PieceKind::Dip);
        let reading = self.reads(Spot::piece(piece, Key::ReadingBefore, 0), level, self.truth.under_head);
        let told = self.dips(PieceKind::Dip, level, "B", &[0.0]);
        self.way_by_level(reading, told, true);
    }

    /// Measures the riser with a tape along the pipe; returns what is written and its error.
    fn riser(&mut self) -> (f64, Source) {
        self.riser_by(Choice::ByTape, 0.006)
    }

    fn riser_by(&mut self, how: Choice, standard: f64) -> (f64, Source) {
        let (source, error) = self.source(Shape::Normal(standard));
        let piece = self.piece(PieceKind::Riser);
        let (text, read, _) = self.site.length(self.truth.height - error);
        self.put(Spot::piece(piece, Key::RiserHeight, 0), text);
        self.put(Spot::piece(piece, Key::RiserHow, 0), how.word());
        (read, source)
    }

    /// The way by a riser and the offset the unit carries: the sensor's own zero is taken on trust.
    fn way_by_riser(&mut self, riser: (f64, Source), offset: f64, errors: Vec<Source>) {
        let own = [self.common.allowance, self.common.accuracy];
        let head = self.head_over(riser);
        self.ways.push(Box::new(move |drawn| -(offset + drawn.sum(&errors) + head(drawn) + drawn.sum(&own))));
    }

    fn riser_and_offset(&mut self, today: bool) {
        let (offset, error) = if today {
            self.offset_read()
        } else {
            let (source, since) = self.source(Shape::Rectangle(self.site.allowance));
            let (text, offset) = self.site.written(self.truth.offset - since);
            self.draft.instrument.offset_on_record = text;
            (offset, source)
        };
        self.stand(if today { Choice::OffsetReadToday } else { Choice::OffsetFromRecord });
        let riser = self.riser();
        self.way_by_riser(riser, offset, vec![error]);
    }

    fn riser_and_cleared(&mut self) {
        self.offset_read();
        self.stand(Choice::OffsetClearedToday);
        self.truth.offset = 0.0;
        self.reads(Spot::of(Key::DisplayCleared), self.truth.level, self.truth.under_head);
        let riser = self.riser();
        self.way_by_riser(riser, 0.0, Vec::new());
    }

    fn riser_and_vented(&mut self) {
        let riser = self.riser();
        self.vented_over(riser, None);
    }

    /// A vented check over a riser that was measured in one way or another; liquid that stays on the sensor is measured
    /// within `left` to either side.
    fn vented_over(&mut self, riser: (f64, Source), left: Option<f64>) {
        let piece = self.piece(PieceKind::Vented);
        self.put(Spot::piece(piece, Key::VentAllowed, 0), Choice::Yes.word());
        let stub = left.map(|half| {
            let (source, error) = self.source(Shape::Rectangle(half));
            let stands = self.chance.between(0.05, 0.40);
            let (text, read, _) = self.site.length(stands - error);
            self.put(Spot::piece(piece, Key::VentedLeft, 0), text);
            (read, source, read + error)
        });
        let stands = stub.map_or(0.0, |stub| stub.2);
        let shown =
            self.truth.at_atmosphere + self.truth.offset + self.truth.weather + self.truth.gradient * stands;
        let (read, digit) = self.types(Spot::piece(piece, Key::VentedReading, 0), shown);
        let (own, weather) = (self.common.own_accuracy, self.weather.clone());
        let head = self.head_over(riser);
        self.ways.push(Box::new(move |drawn| {
            let stub = stub.map_or(0.0, |stub| drawn.gradient * (stub.0 + drawn.errors[stub.1]));
            let zero = read + drawn.errors[digit] + drawn.errors[own] - drawn.sum(&weather) - stub;
            -(zero + head(drawn))
        }));
    }
}

/// The mean of what was read, and how it may be off by scatter: by what is usual for one, by their own for several.
pub(crate) fn mean(read: &[f64]) -> (f64, Shape) {
    let many = u32::try_from(read.len()).unwrap();
    let number = f64::from(many);
    let mean = read.iter().sum::<f64>() / number;
    if many == 1 {
        return (mean, Shape::Normal(0.005));
    }
    let squares: f64 = read.iter().map(|one| (one - mean).powi(2)).sum();
    (mean, Shape::Student((squares / (number - 1.0) / number).sqrt(), many - 1))
}
