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
 * Its tag, if it has one.
 */
tag: string,
/**
 * The field.
 */
field: string,
/**
 * What is wrong and what to do.
 */
text: string, };
