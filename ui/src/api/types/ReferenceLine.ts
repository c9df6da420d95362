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
 * Agreement with the rest (En), or what is to be said.
 */
says: string, };
