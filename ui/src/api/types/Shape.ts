// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Role } from "./Role";

/**
 * One shape, in drawing units, y down.
 */
export type Shape = { "shape": "line",
/**
 * Role.
 */
role: Role,
/**
 * Start.
 */
x1: number,
/**
 * Start.
 */
y1: number,
/**
 * End.
 */
x2: number,
/**
 * End.
 */
y2: number, } | { "shape": "rect",
/**
 * Role.
 */
role: Role,
/**
 * Left.
 */
x: number,
/**
 * Top.
 */
y: number,
/**
 * Width.
 */
w: number,
/**
 * Height.
 */
h: number, } | { "shape": "text",
/**
 * Role.
 */
role: Role,
/**
 * Anchor.
 */
x: number,
/**
 * Baseline.
 */
y: number,
/**
 * `start`, `middle` or `end`.
 */
anchor: string,
/**
 * The words.
 */
text: string, };
