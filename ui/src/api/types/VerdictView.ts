// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * The verdict.
 */
export type VerdictView = {
/**
 * A stable word for it.
 */
code: string,
/**
 * The verdict in a few words.
 */
short: string,
/**
 * What it says beyond those; may be empty.
 */
detail: string,
/**
 * The whole verdict in words, as it is signed.
 */
text: string,
/**
 * Error as found, in level and % of span.
 */
as_found: string,
/**
 * Error as left.
 */
as_left: string,
/**
 * Its expanded uncertainty.
 */
uncertainty: string,
/**
 * The tolerance.
 */
tolerance: string,
/**
 * The decision rule used.
 */
rule: string, };
