//! Levels: which one a piece of evidence speaks of, and what a moving one may hide.

use uom::si::f64::Length;

use super::start::Builder;
use crate::evidence::{Input, InputId, LevelId, straightness};
use crate::visit::{Key, Piece, Spot};

impl Builder<'_> {
    /// The level a piece speaks of: its own where the display was read for it, else the one the standing reading saw.
    pub(super) fn level_for(&mut self, piece: &Piece, taken: Option<f64>, under_head: bool) -> LevelId {
        let spots = [Key::ReadingBefore, Key::ReadingAfter].map(|key| Spot::piece(piece.id, key, 0));
        let read: Vec<Spot> =
            spots.into_iter().filter(|spot| self.entries.reading(*spot).is_some()).collect();
        self.carried_by = Length::default();
        let level = if read.is_empty() {
            let drift = self.series.filter(|series| series.moves).and_then(|series| series.drift);
            match (drift, taken, self.now, self.shared_level) {
                (Some(drift), Some(taken), Some(now), _) => self.carried_level(now, drift, taken),
                (_, _, _, Some(level)) => level,
                _ => self.share_level(under_head),
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

    /// What a straight line between the readings before and after may miss of a moving level: a quarter of the change
    /// (see [`straightness`]); nothing where only one was read.
    pub(super) fn straightness(&mut self, piece: &Piece) -> InputId {
        let read = |key| self.entries.reading(Spot::piece(piece.id, key, 0)).map(|(reading, _)| reading);
        let change = match (read(Key::ReadingBefore), read(Key::ReadingAfter)) {
            (Some(before), Some(after)) => self.gradient.length(after - before),
            _ => self.carried_by,
        };
        self.case.input(Input::length("level between the readings", Length::default(), straightness(change)))
    }
}
