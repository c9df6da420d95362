//! An earlier visit as one equation.

use uom::si::f64::{Length, Pressure};

use super::start::Builder;
use crate::evidence::{EarlierVisit, Input, InputId, Spread};
use crate::visit::earlier::usable;
use crate::visit::{Choice, Key, KnownEarlier, KnownStanding, Past, Piece, Spot, moment, usual};

/// The part of an earlier visit's uncertainty that stays its own, however much of it is shared.
const OWN: f64 = 1.0 / 3.0;

impl Builder<'_> {
    pub(super) fn earlier(&mut self, piece: &Piece) {
        if self.draft.answers.choice(Spot::piece(piece.id, Key::EarlierSame, 0)) != Some(Choice::Yes) {
            return;
        }
        let past = Past::of(self.known, None, self.gradient);
        let Ok((visit, standing)) = usable(self.draft, self.known, &past) else { return };
        let by = self.reference(piece, &format!("visit of {}", visit.date));
        let (plus, minus) = self.shared(visit);
        let density = Input::density(
            format!("density of the liquid on {}", visit.date),
            standing.density,
            Spread::Standard(self.density_standard),
        );
        let then = self.column.of_density(self.case.input(density));
        let riser = self.case.input(Input::length("riser by the register", self.known.riser, Spread::Exact));
        let own = self.own_standard(standing, &plus, &minus);
        let label = format!("offset by the visit of {}", visit.date);
        let offset = self.case.input(Input::pressure(label, standing.offset, Spread::Standard(own)));
        let moved = Input::pressure(
            format!("what the sensor's zero may have moved since {}", visit.date),
            Pressure::default(),
            Spread::Rectangular(self.moved_since(visit, &past)),
        );
        let moved = self.case.input(moved);
        let accuracy = (visit.by != "known_empty").then_some(self.accuracy);
        let told = EarlierVisit { offset, moved, then, now: self.column, riser, accuracy, plus, minus };
        self.case.earlier(by, &told);
    }

    /// What that visit and today lean on alike: marks and tape, as lengths that raise or lower its offset.
    fn shared(&mut self, visit: &KnownEarlier) -> (Vec<InputId>, Vec<InputId>) {
        let tape = (!visit.tape.is_empty()).then(|| self.tape_called(visit.tape.clone()));
        let tape: Vec<InputId> = tape.into_iter().collect();
        match (visit.by.as_str(), self.known.hatch) {
            ("dip", _) => {
                let floor = self.mark("tank floor above zero", self.known.floor);
                ([vec![floor], tape].concat(), Vec::new())
            }
            ("drop", Some(hatch)) => (vec![self.mark("hatch mark above zero", hatch)], tape),
            ("known_empty", _) => (vec![self.mark("outlet sill", self.known.sill)], Vec::new()),
            ("riser", _) => (Vec::new(), vec![self.drawing()]),
            _ => (tape, Vec::new()),
        }
    }

    /// The riser off the drawing: one drawing, whenever it is looked at.
    fn drawing(&mut self) -> InputId {
        if let Some(id) = self.marks.get(super::pieces::DRAWING) {
            return *id;
        }
        let spread = Spread::Standard(usual::riser_by_drawing());
        let id = self.case.input(Input::length("riser off the drawing", self.known.riser, spread));
        self.marks.insert(super::pieces::DRAWING, id);
        id
    }

    /// The stated uncertainty less what is shared with today, which stands in the case as inputs of its own.
    fn own_standard(&self, standing: KnownStanding, plus: &[InputId], minus: &[InputId]) -> Pressure {
        let lengths = plus.iter().chain(minus).filter_map(|id| self.case.standard_length(*id));
        let shared = lengths.map(|length: Length| standing.gradient.pressure(length));
        let accuracy = self.known.sensor.accuracy / 2.0;
        let taken: Pressure =
            shared.chain([accuracy]).fold(Pressure::default(), |sum, part| hypot(sum, part));
        let (whole, taken) = (standing.standard.value, taken.value);
        let own = libm::sqrt((whole * whole - taken * taken).max(0.0));
        standing.standard * (own / whole).max(OWN)
    }

    /// How far the zero may have moved: the register's allowance, or what its drift so far makes likely if more.
    fn moved_since(&self, visit: &KnownEarlier, past: &Past) -> Pressure {
        let allowance = self.known.sensor.zero_allowance;
        #[allow(clippy::cast_precision_loss)] // Days of the calendar.
        let years = (moment::day(self.draft) - visit.day).max(0) as f64 / 365.25;
        let drift = past.drift().map(|drift| (drift.per_year.abs() + drift.expanded) * years);
        // Two visits alone may leave the drift wide open; the allowance is then the better guess.
        drift.filter(|_| past.used() > 2).map_or(allowance, |drift| drift.max(allowance))
    }
}

fn hypot(one: Pressure, other: Pressure) -> Pressure {
    let mut sum = one;
    sum.value = libm::hypot(one.value, other.value);
    sum
}
