// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { ReviewLine } from "./ReviewLine";

/**
 * One part of the visit.
 */
export type ReviewPart = {
/**
 * The step's name, or that of a piece of evidence.
 */
title: string,
/**
 * What was answered there, in the order of the questions; empty for a piece of which nothing was said.
 */
lines: Array<ReviewLine>, };
