// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * One visit of the past, in the table beside the chart.
 */
export type HistoryRow = {
/**
 * The day it was made on: `2025-11-20`.
 */
date: string,
/**
 * The standing offset at the common density; empty when it did not follow.
 */
offset: string,
/**
 * Its expanded uncertainty, in the unit of the offset; empty without one.
 */
uncertainty: string,
/**
 * The error as found; empty when it was not judged.
 */
found: string,
/**
 * The unit's serial number; empty where the visit named none.
 */
serial: string,
/**
 * False for what lies before another unit was fitted or the transmitter was moved.
 */
current: boolean, };
