// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Key } from "./Key";
import type { Step } from "./Step";

/**
 * Where something that is missing is mended.
 */
export type LeadsTo = { "to": "question",
/**
 * What is asked.
 */
key: Key,
/**
 * For which piece of evidence; 0 for none.
 */
piece: number,
/**
 * In which row.
 */
row: number,
/**
 * The label where it is data (a safety item); empty where the pages' text table has it.
 */
label: string, } | { "to": "step",
/**
 * Which.
 */
step: Step, } | { "to": "here" };
