// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { BudgetLine } from "./BudgetLine";
import type { Message } from "./Message";
import type { ReferenceLine } from "./ReferenceLine";
import type { Remedy } from "./Remedy";
import type { ShiftState } from "./ShiftState";
import type { WorkView } from "./WorkView";

/**
 * The Shift screen.
 */
export type ShiftView = {
/**
 * What it is about.
 */
state: ShiftState,
/**
 * The display unit, with its definition.
 */
unit: string,
/**
 * Display now.
 */
from: string,
/**
 * Display to be.
 */
to: string,
/**
 * The change, signed.
 */
by: string,
/**
 * "± 0.03 ft (95 %)".
 */
sure: string,
/**
 * The new total offset; empty when the carried one is unknown.
 */
total: string,
/**
 * Level by the evidence, in both systems.
 */
level: string,
/**
 * One sentence for all that.
 */
headline: string,
/**
 * The rule in force, in words.
 */
rule: string,
/**
 * The working.
 */
working: Array<WorkView>,
/**
 * What is assumed.
 */
assumptions: Array<Message>,
/**
 * Warnings and refusals.
 */
warnings: Array<Message>,
/**
 * The ways out, in their order, where nothing is determined.
 */
ways_out: Array<Remedy>,
/**
 * Each reference alone.
 */
references: Array<ReferenceLine>,
/**
 * The budget.
 */
budget: Array<BudgetLine>,
/**
 * True while the level moves: the target moves with it, and is to be asked for again and again.
 */
moving: boolean,
/**
 * How this unit is adjusted: the utility's note.
 */
adjust_note: string, };
