// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { MissingView } from "./MissingView";
import type { Step } from "./Step";

/**
 * The one main button.
 */
export type NextView = {
/**
 * The step it leads to; none when it signs.
 */
to: Step | null,
/**
 * True when it can be pressed.
 */
ready: boolean,
/**
 * What is still missing, in the order of the screen.
 */
missing: Array<MissingView>, };
