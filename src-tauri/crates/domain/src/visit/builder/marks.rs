//! Marks: causes that several pieces of evidence share.

use uom::si::f64::Length;

use super::start::Builder;
use crate::evidence::{Input, InputId, Spread};
use crate::visit::usual;

impl Builder<'_> {
    pub(super) fn mark(&mut self, name: &'static str, at: Length) -> InputId {
        if let Some(id) = self.marks.get(name) {
            return *id;
        }
        let id = self.case.input(surveyed(name, at));
        self.marks.insert(name, id);
        id
    }
}

/// A mark as surveyed once; one that is the zero itself is so by agreement.
pub(in crate::visit) fn surveyed(name: &'static str, at: Length) -> Input {
    let spread = if at == Length::default() { Spread::Exact } else { Spread::Standard(usual::mark()) };
    Input::length(name, at, spread)
}
