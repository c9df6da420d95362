// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Key } from "./Key";
import type { PieceKind } from "./PieceKind";
import type { StatedAnswer } from "./StatedAnswer";
import type { Step } from "./Step";
import type { Timing } from "./Timing";

/**
 * One thing a person did.
 */
export type Change = { "do": "answer",
/**
 * What is answered.
 */
key: Key,
/**
 * For which piece; 0 for none.
 */
piece: number,
/**
 * In which row.
 */
row: number,
/**
 * The text as typed, or the value of the option.
 */
text: string, } | { "do": "add",
/**
 * Which.
 */
kind: PieceKind,
/**
 * Before or after the trim.
 */
timing: Timing, } | { "do": "remove",
/**
 * Its number.
 */
piece: number, } | { "do": "together",
/**
 * The answers, as they were shown.
 */
answers: Array<StatedAnswer>, } | { "do": "go",
/**
 * Which.
 */
step: Step, };
