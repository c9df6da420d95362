// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { PieceKind } from "./PieceKind";
import type { Timing } from "./Timing";

/**
 * A kind of evidence that can be added here.
 */
export type OfferView = {
/**
 * Which kind of evidence.
 */
kind: PieceKind,
/**
 * Before or after the trim.
 */
timing: Timing,
/**
 * What it is called here; empty where the pages' text table has it.
 */
name: string,
/**
 * What it is, in a line; empty where the pages' text table has it.
 */
help: string,
/**
 * Why it may not be taken here; empty when it may.
 */
not_here: string, };
