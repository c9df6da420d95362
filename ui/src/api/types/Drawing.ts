// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Shape } from "./Shape";

/**
 * A drawing.
 */
export type Drawing = {
/**
 * Width of the drawing area.
 */
width: number,
/**
 * Height of the drawing area.
 */
height: number,
/**
 * A sentence for those who cannot see it.
 */
description: string,
/**
 * Back to front.
 */
shapes: Array<Shape>, };
