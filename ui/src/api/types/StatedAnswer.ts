// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Key } from "./Key";

/**
 * One answer stated among others.
 */
export type StatedAnswer = {
/**
 * What is answered.
 */
key: Key,
/**
 * In which row.
 */
row: number,
/**
 * The text of the answer.
 */
text: string, };
