//! Tests of reading and printing. Lengths in metres beside a text are worked out by hand from 0.3048 m to the
//! foot and 0.0254 m to the inch (international yard and pound agreement, 1959).

mod decimals;
mod edges;
mod flow_rates;
mod lengths;
mod numbers;
mod positions;
mod printing;
mod units;
