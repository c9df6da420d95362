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
        let spread = if at == Length::default() { Spread::Exact } else { Spread::Standard(usual::mark()) };
        let id = self.case.input(Input::length(name, at, spread));
        self.marks.insert(name, id);
        id
    }
}
