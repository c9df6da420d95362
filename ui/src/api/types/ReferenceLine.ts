// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * What one reference alone would say.
 */
export type ReferenceLine = {
/**
 * Which.
 */
what: string,
/**
 * The shift by it alone, with unit; empty when it determines none alone.
 */
shift: string,
/**
 * Its expanded uncertainty.
 */
uncertainty: string,
/**
 * How it agrees with each other line, by name and with En, the worst first; or that it gives no number.
 */
says: string, };
