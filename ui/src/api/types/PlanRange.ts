// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { PlanPoint } from "./PlanPoint";
import type { PlanWay } from "./PlanWay";

/**
 * One way to range it, with what everyone sees.
 */
export type PlanRange = {
/**
 * Which way.
 */
way: PlanWay,
/**
 * True for the way the register wants.
 */
wanted: boolean,
/**
 * LRV, signed.
 */
lrv: string,
/**
 * URV, signed.
 */
urv: string,
/**
 * The total offset that goes with it.
 */
offset: string,
/**
 * The unit of the display.
 */
unit: string,
/**
 * Suppression or elevation, said beside the sign.
 */
wording: string,
/**
 * What is shown at 0, 25, 50, 75 and 100 %.
 */
points: Array<PlanPoint>, };
