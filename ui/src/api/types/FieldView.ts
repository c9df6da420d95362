// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { FieldKind } from "./FieldKind";
import type { Key } from "./Key";
import type { Message } from "./Message";
import type { OptionView } from "./OptionView";
import type { Which } from "./Which";

/**
 * One thing asked.
 */
export type FieldView = {
/**
 * What is asked.
 */
key: Key,
/**
 * For which piece of evidence; 0 for none.
 */
piece: number,
/**
 * In which row.
 */
row: number,
/**
 * What it takes, which decides between pad, keyboard and buttons.
 */
kind: FieldKind,
/**
 * The label where it is data (a safety item); empty where the pages' text table has it.
 */
label: string,
/**
 * The unit beside the number; may be empty.
 */
unit: string,
/**
 * What stands there now, as typed or as the chosen value; empty where nothing does.
 */
text: string,
/**
 * How it was read: the same in the other system, or the level it means; empty while it is not.
 */
echo: string,
/**
 * What is wrong or doubtful with it; none while nothing is.
 */
problem: Message | null,
/**
 * What a doubtful text may mean, to choose between; empty where it is plain.
 */
which: Array<Which>,
/**
 * What may be chosen, or put in by one touch; empty where nothing is offered.
 */
options: Array<OptionView>,
/**
 * True when the step cannot be left without it.
 */
required: boolean, };
