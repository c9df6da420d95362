// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * What one input moves.
 */
export type PlanMove = {
/**
 * By how much of which input.
 */
what: string,
/**
 * What that moves at 0 %.
 */
at_zero: string,
/**
 * What that moves at 100 %.
 */
at_full: string, };
