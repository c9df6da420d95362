// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { ReviewLine } from "./ReviewLine";

/**
 * One part of the visit.
 */
export type ReviewPart = {
/**
 * Its heading.
 */
title: string,
/**
 * Its lines.
 */
lines: Array<ReviewLine>, };
