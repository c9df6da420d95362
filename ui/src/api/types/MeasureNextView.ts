// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { ProposalView } from "./ProposalView";

/**
 * What to measure next.
 */
export type MeasureNextView = {
/**
 * True when the evidence is good enough: stop.
 */
enough: boolean,
/**
 * One sentence for how things stand.
 */
says: string,
/**
 * What is worth its effort, best first.
 */
proposals: Array<ProposalView>, };
