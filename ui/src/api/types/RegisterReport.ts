// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { RowProblem } from "./RowProblem";

/**
 * What came of loading a register file.
 */
export type RegisterReport = {
/**
 * How many instruments were taken in.
 */
loaded: number,
/**
 * The rows that were left out, and why; may be empty.
 */
problems: Array<RowProblem>,
/**
 * The outcome in a sentence.
 */
text: string, };
