//! A visit as the things a person does, step by step.

use domain::visit::Step;

use crate::Act;

/// What is done in one step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// The step.
    pub step: Step,
    /// What is done in it, in order.
    pub acts: Vec<Act>,
}

/// A whole visit.
#[derive(Debug, Clone, PartialEq)]
pub struct Story {
    /// The instrument.
    pub tag: String,
    /// The code on its label.
    pub code: String,
    /// The steps, first to last.
    pub parts: Vec<Part>,
    /// What the Shift screen is to show, worked out beside the story: from, to, by, as the leading number.
    pub shift: [f64; 3],
    /// The stable word of the verdict.
    pub verdict: String,
}

impl Story {
    /// Returns what is done in a step.
    #[must_use]
    pub fn acts(&self, step: Step) -> &[Act] {
        self.parts.iter().find(|part| part.step == step).map_or(&[], |part| part.acts.as_slice())
    }
}
