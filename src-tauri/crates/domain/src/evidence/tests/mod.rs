//! Evidence worked against common practice, hand calculations and its own promises.

mod agreement;
mod bad_input;
mod classic;
mod determined;
mod earlier;
mod moving;
mod next_best;
mod over_span;
mod properties;
mod repeats;
mod series;
mod tape;
mod tower;
mod uncertainty;
mod verdict;
