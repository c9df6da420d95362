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
 * Whether to trim, to leave it, or why neither is said.
 */
state: ShiftState,
/**
 * The display unit, with its definition.
 */
unit: string,
/**
 * What the display shows before the trim, with unit; empty where no shift is given.
 */
from: string,
/**
 * What to trim it to, with unit; empty where no shift is given.
 */
to: string,
/**
 * What the trim adds, signed, with unit; empty where no shift is given.
 */
by: string,
/**
 * How sure the target is: `± 0.03 ft (95 %)`; empty where no shift is given.
 */
sure: string,
/**
 * The new total offset; empty when the carried one is unknown.
 */
total: string,
/**
 * Level by the evidence, in both systems; empty where none tells one.
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
 * The shift line by line, each formula with its numbers.
 */
working: Array<WorkView>,
/**
 * What was taken for granted, with its share of the doubt; may be empty.
 */
assumptions: Array<Message>,
/**
 * Warnings and refusals, with a field where a reason is wanted; may be empty.
 */
warnings: Array<Message>,
/**
 * The ways out, in their order, where nothing is determined.
 */
ways_out: Array<Remedy>,
/**
 * What each reference would say alone; empty where no shift is given.
 */
references: Array<ReferenceLine>,
/**
 * What the uncertainty is made of, input by input; empty where no shift is given.
 */
budget: Array<BudgetLine>,
/**
 * True while the level moves: the target moves with it, and is to be asked for again and again.
 */
moving: boolean,
/**
 * How this unit is adjusted, in the utility's words; may be empty.
 */
adjust_note: string, };
