// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { CheckView } from "./CheckView";
import type { FieldView } from "./FieldView";
import type { PointView } from "./PointView";

/**
 * The five-point check of a step.
 */
export type FivePointView = {
/**
 * Whether there is a source, and which; as left it is the same one.
 */
fields: Array<FieldView>,
/**
 * The points, with one empty one at the end.
 */
points: Array<PointView>,
/**
 * What it came to, by the display and by the loop current; empty before the first point.
 */
checks: Array<CheckView>, };
