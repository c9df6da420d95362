// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Choice } from "./Choice";

/**
 * One of a few choices.
 */
export type OptionView = {
/**
 * What is sent back as the text of the answer.
 */
value: string,
/**
 * The choice it stands for, labelled from the pages' text table; none for data such as a tape.
 */
choice: Choice | null,
/**
 * The label where the choice is data.
 */
label: string,
/**
 * True for the one that stands as the answer.
 */
chosen: boolean, };
