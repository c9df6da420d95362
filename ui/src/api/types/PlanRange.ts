// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { PlanPoint } from "./PlanPoint";
import type { PlanWay } from "./PlanWay";

/**
 * One way to range it, with what everyone sees.
 */
export type PlanRange = {
/**
 * Which of the two takes the standing head out.
 */
way: PlanWay,
/**
 * True for the way the register wants.
 */
wanted: boolean,
/**
 * LRV, signed, in the display's unit.
 */
lrv: string,
/**
 * URV, signed, in the display's unit.
 */
urv: string,
/**
 * The total offset that goes with it.
 */
offset: string,
/**
 * The symbol of the display's unit.
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
