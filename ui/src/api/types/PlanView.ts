// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Drawing } from "./Drawing";
import type { LeftView } from "./LeftView";
import type { Message } from "./Message";
import type { PlanMove } from "./PlanMove";
import type { PlanNumber } from "./PlanNumber";
import type { PlanRange } from "./PlanRange";
import type { PlanSensor } from "./PlanSensor";

/**
 * An instrument as planned.
 */
export type PlanView = {
/**
 * The instrument's tag, as the register writes it; never empty.
 */
tag: string,
/**
 * What the instrument serves, in the register's words; may be empty.
 */
service: string,
/**
 * The site's name in the register; may be empty.
 */
site: string,
/**
 * Why no visit can be made here; none when one can.
 */
refusal: Message | null,
/**
 * What is to be said of the plan as a whole; may be empty.
 */
messages: Array<Message>,
/**
 * The display's unit, with its definition.
 */
unit: string,
/**
 * What the columns press at level zero.
 */
standing_head: PlanNumber,
/**
 * What the sensor feels at 0 %.
 */
at_zero: PlanNumber,
/**
 * What the sensor feels at 100 %.
 */
at_full: PlanNumber,
/**
 * What a metre or a foot of level adds.
 */
per_level: PlanNumber,
/**
 * The highest pressure the process can bring, and against what.
 */
highest: PlanNumber,
/**
 * The installation to scale.
 */
sketch: Drawing,
/**
 * Both ways to range it, the one the register wants first.
 */
ranges: Array<PlanRange>,
/**
 * The sensors, those that fit first.
 */
sensors: Array<PlanSensor>,
/**
 * What is left over the span and the year; none where LRV and URV meet.
 */
left: LeftView | null,
/**
 * What moves the reading.
 */
moves: Array<PlanMove>,
/**
 * What was taken for granted; may be empty.
 */
assumptions: Array<Message>, };
