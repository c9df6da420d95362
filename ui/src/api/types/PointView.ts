// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { AppliedOffer } from "./AppliedOffer";
import type { FieldView } from "./FieldView";

/**
 * One point of a check: a row to fill in.
 */
export type PointView = {
/**
 * Its row, counted from 0.
 */
row: number,
/**
 * Where it stands and which way the input goes: "50 % up".
 */
at: string,
/**
 * What the usual walk applies here, as text to put in, and how it reads; none where it is filled in.
 */
offer: AppliedOffer | null,
/**
 * What was applied, what the display and the loop showed.
 */
fields: Array<FieldView>,
/**
 * The errors, or why there are none.
 */
says: Array<string>, };
