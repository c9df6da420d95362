// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Choice } from "./Choice";
import type { StatedAnswer } from "./StatedAnswer";

/**
 * One line of what may be stated.
 */
export type StatedView = {
/**
 * What is answered, and how: this is what is sent back.
 */
answer: StatedAnswer,
/**
 * The label where it is data (a safety item); empty where the pages' text table has it.
 */
label: string,
/**
 * The choice it stands for; none for data such as a serial number.
 */
choice: Choice | null, };
