//! Levels that move while they are measured: read, dipped and read again, or carried by what the display's own drift shows.

use domain::visit::{Choice, Key, PieceKind, Spot};

use crate::chance::Shape;
use crate::kinds::Told;
use crate::visit::{Source, Visit};

/// How far a moment may lie from when it was entered, half-width, s.
const CLOCK: f64 = 20.0;
/// How many readings a series has, and how far apart they are taken, s.
const READINGS: u32 = 10;
const APART: f64 = 15.0;

impl Visit {
    /// A level that rises or falls evenly, near enough, while it is read, dipped three times and read again.
    pub(crate) fn moving(&mut self) {
        let rate = self.chance.between(-3e-4, 3e-4);
        let lag = self.chance.one_of(&[0.0, 4.0, 10.0]);
        let middle = self.truth.level;
        self.stand(Choice::OffsetUnknown);
        let late = self.source(Shape::Rectangle(0.2 * lag));
        self.put(Spot::of(Key::Damping), lag.to_string());
        let piece = self.piece(PieceKind::Dip);
        let dipped_at = self.now + 400_000;
        let times = [-self.chance.between(90.0, 240.0), self.chance.between(90.0, 240.0)];
        let mut read = Vec::new();
        for (key, at) in [Key::ReadingBefore, Key::ReadingAfter].into_iter().zip(times) {
            let clock = self.source(Shape::Rectangle(CLOCK));
            #[allow(clippy::cast_possible_truncation)] // Milliseconds of a visit.
            let typed = ((at - clock.1) * 1000.0).round() as i64;
            self.now = dipped_at + typed;
            let level = middle + rate * (at - lag - late.1);
            let (shown, digit) = self.reads(Spot::piece(piece, key, 0), level, self.truth.under_head);
            read.push((at - clock.1, clock.0, shown, digit));
        }
        let change = (read[1].2 - read[0].2) / self.site.gradient();
        let line = self.source(Shape::Rectangle(change.abs() / 4.0));
        self.now = dipped_at - 30_000;
        let apart = [-30.0, 0.0, 30.0].map(|at| rate * at + line.1);
        let mut told = self.dips(PieceKind::Dip, middle, "A", &apart);
        told.minus.push(line.0);
        self.way_by_bracket([read[0], read[1]], (lag, late.0), told);
    }

    fn way_by_bracket(&mut self, read: [(f64, Source, f64, Source); 2], late: (f64, Source), told: Told) {
        let accuracy = self.common.accuracy;
        self.ways.push(Box::new(move |drawn| {
            let at = |one: (f64, Source, f64, Source)| {
                (one.0 + drawn.errors[one.1], one.2 + drawn.errors[one.3] + drawn.errors[accuracy])
            };
            let ((from, before), (to, after)) = (at(read[0]), at(read[1]));
            // The display shows at this moment what the level was at the dip.
            let moment = late.0 + drawn.errors[late.1];
            let shown = before + (after - before) * (moment - from) / (to - from);
            let level = told.level + drawn.sum(&told.plus) - drawn.sum(&told.minus);
            level * drawn.gradient - shown
        }));
    }

    /// A display that is read ten times over a level that moves, and a dip after it without a reading of its own.
    pub(crate) fn carried_dip(&mut self) {
        let way = self.chance.one_of(&[-1.0, 1.0]);
        let rate = way * self.chance.between(3e-4, 8e-4);
        let lag = self.chance.one_of(&[0.0, 4.0, 10.0]);
        let late = self.source(Shape::Rectangle(0.2 * lag));
        self.choose(Key::OffsetKnown, Choice::OffsetUnknown);
        self.put(Spot::of(Key::Damping), lag.to_string());
        // The display trembles by more than its last digit, so that its rounding is part of its scatter.
        let ripple = self.site.step() + 20.0;
        let (begun, level) = (self.now, self.truth.level);
        let mut read = Vec::new();
        for row in 0..READINGS {
            let at = f64::from(row) * APART;
            self.now = begun + milliseconds(at);
            let spot = if row == 0 { Spot::of(Key::Display) } else { Spot::row(Key::DisplayRepeat, row - 1) };
            let sensor = self.truth.under_head + ripple * self.chance.normal();
            read.push((at, self.reads(spot, level + rate * (at - lag - late.1), sensor).0));
        }
        let line = Line::through(&read);
        let [mean, slope] =
            [line.of_mean, line.of_slope].map(|standard| self.made(Shape::Student(standard, READINGS - 2)));
        let digit = self.made(Shape::Rectangle(self.site.step() / 2.0));
        let typed = f64::from(READINGS - 1) * APART + self.chance.between(30.0, 150.0);
        let clock = self.source(Shape::Rectangle(CLOCK));
        let after = typed + clock.1 - f64::from(READINGS - 1) * APART;
        let bent = self.source(Shape::Rectangle((rate * after).abs() / 4.0));
        self.now = begun + milliseconds(typed);
        self.piece(PieceKind::Dip);
        let stands = level + rate * (typed + clock.1) + bent.1;
        let mut told = self.dips(PieceKind::Dip, stands, "A", &[0.0]);
        told.minus.push(bent.0);
        let accuracy = self.common.accuracy;
        self.ways.push(Box::new(move |drawn| {
            let error = |source: usize| drawn.errors[source];
            let at = typed + error(clock.0) + lag + error(late.0);
            let shown = line.mean + error(mean) + (line.slope + error(slope)) * (at - line.middle);
            let level = told.level + drawn.sum(&told.plus) - drawn.sum(&told.minus);
            level * drawn.gradient - (shown + drawn.sum(&[digit, accuracy]))
        }));
    }
}

#[allow(clippy::cast_possible_truncation)] // Milliseconds of a visit.
fn milliseconds(seconds: f64) -> i64 {
    (seconds * 1000.0).round() as i64
}

/// A line of least squares through readings, and how far its middle and its slope may be off by scatter.
#[derive(Clone, Copy)]
struct Line {
    middle: f64,
    mean: f64,
    slope: f64,
    of_mean: f64,
    of_slope: f64,
}

impl Line {
    fn through(read: &[(f64, f64)]) -> Line {
        let many = f64::from(u32::try_from(read.len()).unwrap());
        let middle = read.iter().map(|one| one.0).sum::<f64>() / many;
        let mean = read.iter().map(|one| one.1).sum::<f64>() / many;
        let times: f64 = read.iter().map(|one| (one.0 - middle).powi(2)).sum();
        let slope = read.iter().map(|one| (one.0 - middle) * (one.1 - mean)).sum::<f64>() / times;
        let left: f64 = read.iter().map(|one| (one.1 - mean - slope * (one.0 - middle)).powi(2)).sum::<f64>();
        let one = (left / (many - 2.0)).sqrt();
        Line { middle, mean, slope, of_mean: one / many.sqrt(), of_slope: one / times.sqrt() }
    }
}
