// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Role } from "./Role";

/**
 * One shape, in drawing units, y down.
 */
export type Shape = { "shape": "line",
/**
 * What it stands for.
 */
role: Role,
/**
 * Where it starts, from the left.
 */
x1: number,
/**
 * Where it starts, from above.
 */
y1: number,
/**
 * Where it ends, from the left.
 */
x2: number,
/**
 * Where it ends, from above.
 */
y2: number, } | { "shape": "rect",
/**
 * What it stands for.
 */
role: Role,
/**
 * Its left side, from the left.
 */
x: number,
/**
 * Its upper side, from above.
 */
y: number,
/**
 * How wide it is.
 */
w: number,
/**
 * How high it is.
 */
h: number, } | { "shape": "text",
/**
 * What it stands for.
 */
role: Role,
/**
 * Its anchor, from the left.
 */
x: number,
/**
 * Its baseline, from above.
 */
y: number,
/**
 * Which part of the text stands at the anchor: `start`, `middle` or `end`.
 */
anchor: string,
/**
 * What is written; never empty.
 */
text: string, };
