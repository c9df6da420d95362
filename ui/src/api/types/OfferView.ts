// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { PieceKind } from "./PieceKind";
import type { Timing } from "./Timing";

/**
 * A kind of evidence that can be added here.
 */
export type OfferView = {
/**
 * Which.
 */
kind: PieceKind,
/**
 * Before or after the trim.
 */
timing: Timing,
/**
 * Why it may not be taken here; empty when it may.
 */
not_here: string, };
