// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { StatedView } from "./StatedView";
import type { Step } from "./Step";

/**
 * What may be stated by one touch, line by line.
 */
export type TogetherView = {
/**
 * What would be answered, line by line, in the order of the screen; two or more.
 */
lines: Array<StatedView>,
/**
 * The step it leads on to; none where something else is still missing on this one.
 */
leads_to: Step | null, };
