// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Change } from "./Change";

/**
 * One thing worth measuring.
 */
export type ProposalView = {
/**
 * What to do, as an order: `Dip three times from the floor with Tape M-14`.
 */
what: string,
/**
 * What it would do to the uncertainty: `± 0.52 in now, ± 0.31 in then`.
 */
gain: string,
/**
 * About how long it takes.
 */
effort: string,
/**
 * Anything to be said beside it; may be empty.
 */
says: string,
/**
 * What the button does.
 */
change: Change, };
