// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { RowProblem } from "./RowProblem";

/**
 * What came of loading a register file.
 */
export type RegisterReport = {
/**
 * Instruments taken in.
 */
loaded: number,
/**
 * Rows left out.
 */
problems: Array<RowProblem>,
/**
 * The outcome in a sentence.
 */
text: string, };
