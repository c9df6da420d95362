//! Flow in the riser at a visit: what runs while the display is read, what that makes it read wrong by, and how much
//! would be harmless.
//!
//! A reading at the foot of a riser through which the tank is drawn is low, and through which it is filled high
//! ([`crate::head::Pipe`]). [`state()`] says what was answered, [`effect()`] what follows of it where the register describes the
//! pipe: a correction of every reading under head with a line of its own in the budget, or, where nobody knows what
//! runs, a wider uncertainty and no correction. [`said`] puts it into sentences. Nothing here stops a flow: it says
//! how far the reading is off, and what to ask.

mod asks;
mod changed;
mod effect;
mod said;
mod state;
mod work;

pub(super) use asks::{asks, matters, put_in};
pub(super) use changed::{changed, target_now};
pub(super) use effect::{Effect, Waterway, effect};
pub(super) use said::{assumption, at_the_desk, at_the_target, remarks, remarks_left};
pub(super) use state::{Flow, keys, state};
pub(super) use work::{echo, lines, results};
