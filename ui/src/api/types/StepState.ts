// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Step } from "./Step";

/**
 * One step in the row of eight.
 */
export type StepState = {
/**
 * Which of the eight.
 */
step: Step,
/**
 * Everything it must hold is there.
 */
complete: boolean,
/**
 * It can be opened now.
 */
open: boolean, };
