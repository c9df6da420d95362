// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { WorkView } from "./WorkView";

/**
 * What a check came to, by the display or by the loop current.
 */
export type CheckView = {
/**
 * `display` or `loop current`.
 */
by: string,
/**
 * The verdict in a sentence.
 */
verdict: string,
/**
 * The rule it was reached by; may be empty.
 */
rule: string,
/**
 * Zero, span, hysteresis, linearity, each with how it was worked out.
 */
lines: Array<WorkView>, };
