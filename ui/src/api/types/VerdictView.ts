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
 * Error as found, in level and % of span; empty where the evidence determines none.
 */
as_found: string,
/**
 * Error as left, in level and % of span; empty until there is one.
 */
as_left: string,
/**
 * The expanded uncertainty of the error as left, or as found before that: `± 0.4 in (95 %)`; empty without
 * either.
 */
uncertainty: string,
/**
 * The register's tolerance, in the site's length unit.
 */
tolerance: string,
/**
 * The decision rule in a sentence; empty where nothing was judged by one.
 */
rule: string, };
