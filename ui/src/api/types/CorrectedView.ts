// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * LRV and URV that would leave less over the year.
 */
export type CorrectedView = {
/**
 * LRV, signed, in the display's unit.
 */
lrv: string,
/**
 * URV, signed, in the display's unit.
 */
urv: string,
/**
 * What they would leave at most.
 */
worst: string,
/**
 * What they change and what not.
 */
says: string, };
