// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A bad row of a register file.
 */
export type RowProblem = {
/**
 * Its place in the file, from 1; 0 for the file itself.
 */
row: number,
/**
 * The row's tag; empty where it has none, and for the file itself.
 */
tag: string,
/**
 * The field by its path in the row, such as `limits.url`; empty where the row or the file as a whole is meant.
 */
field: string,
/**
 * What is wrong and what to do.
 */
text: string, };
