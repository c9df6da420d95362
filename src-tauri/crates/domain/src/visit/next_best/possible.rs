//! What can be measured here and today: by this site, mounting, liquid, crew and weather.

use uom::si::f64::Length;

use super::suppose::Site;
use super::{Climb, Measure, climb};
use crate::head::mounting::Mounting;
use crate::visit::{Choice, Key, Piece, PieceKind, Spot, Timing};

impl Site<'_> {
    pub(super) fn possible(&self) -> Vec<Measure> {
        let mut possible = self.at_the_unit();
        possible.extend(self.at_the_tank());
        possible.extend(self.others());
        // Whatever is ruled out goes before anything is ranked, so that it takes no place from what can be done.
        let open = |kind| self.assessment.not_here(self.draft, kind).is_none();
        possible.retain(|measure| measure.adds().is_none_or(open));
        possible
    }

    fn has(&self, kind: PieceKind) -> bool {
        self.draft.pieces.iter().any(|piece| piece.kind == kind && piece.timing == Timing::Before)
    }

    fn reaches_hatch(&self) -> bool {
        self.draft.instrument.crew.hatch_from_ground || climb(self.draft) == Climb::Allowed
    }

    fn at_the_unit(&self) -> Vec<Measure> {
        let seen = matches!(
            self.draft.answers.choice(Spot::of(Key::OffsetKnown)),
            Some(Choice::OffsetReadToday | Choice::OffsetClearedToday)
        );
        // A probe hangs under the surface, where no laser reaches it.
        let hidden = matches!(self.known().mounted.mounting, Mounting::Probe { .. });
        [
            (!seen, Measure::ReadOffset),
            (!self.assessment.conditions.measured, Measure::Temperature),
            (self.built.scatter.is_some(), Measure::LongerSeries),
            (!self.draft.instrument.liquid.harmful, Measure::Vented),
            (!hidden, Measure::RiserByLaser),
        ]
        .into_iter()
        .filter_map(|(when, measure)| when.then_some(measure))
        .collect()
    }

    fn at_the_tank(&self) -> Vec<Measure> {
        let known = self.known();
        let mut possible = Vec::new();
        let near = |mark: Length| {
            let room = known.span * 0.01;
            self.level.is_some_and(|level| (level - mark).abs() < room)
        };
        // Nobody empties or fills a tank for a reference: only where the level stands there already.
        if near(known.sill) {
            possible.push(Measure::KnownEmpty);
        }
        if known.overflow.is_some_and(near) && !self.has(PieceKind::Overflow) {
            possible.push(Measure::Overflow);
        }
        if self.reaches_hatch() {
            for tape in self.tapes() {
                possible.push(Measure::Dip(tape.clone()));
                possible.push(Measure::Drop(tape));
            }
        }
        if self.draft.instrument.crew.climb && climb(self.draft) == Climb::Allowed {
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
            let named = |piece: &Piece| {
                self.draft.answers.text(Spot::piece(piece.id, Key::OtherUsed, 0)).trim() == name
            };
            self.draft.pieces.iter().any(named)
        };
        let others = self.known().others.iter().filter(|other| !heard(&other.name));
        others.map(|other| Measure::Other(other.name.clone())).collect()
    }
}
