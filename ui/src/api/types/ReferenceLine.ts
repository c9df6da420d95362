// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * What one reference alone would say.
 */
export type ReferenceLine = {
/**
 * What the reference is, counted where several are called alike: `dip 2`; or two that speak only together.
 */
what: string,
/**
 * The shift by it alone, with unit; empty when it determines none alone.
 */
shift: string,
/**
 * Its expanded uncertainty in the reading unit: `± 0.03 ft`; empty where there is no shift.
 */
uncertainty: string,
/**
 * How it agrees with each other line, by name and with En, the worst first; or that it gives no number.
 */
says: string, };
