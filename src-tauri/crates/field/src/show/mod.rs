//! From what the domain worked out to what the screens are given: words, rounding, order. Nothing is decided here.

mod fields;
mod five_point;
mod history;
mod left;
mod messages;
mod names;
mod next_best;
mod pieces;
mod plan;
mod plate;
mod record;
mod reminder;
mod review;
mod shift;
mod sketch;
mod slip;
mod step;
mod together;
mod verdict;
mod visit;

pub(crate) use history::before as history_before;
pub(crate) use messages::with_reason;
pub(crate) use next_best::target;
pub(crate) use plan::plan;
pub(crate) use record::record;
pub(crate) use verdict::short as short_verdict;
pub(crate) use visit::visit;
