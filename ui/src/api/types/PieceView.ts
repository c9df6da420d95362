// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { FieldView } from "./FieldView";
import type { Message } from "./Message";
import type { PieceKind } from "./PieceKind";
import type { Timing } from "./Timing";

/**
 * One piece of evidence on the screen.
 */
export type PieceView = {
/**
 * Its number in this visit, from 1; never used twice.
 */
id: number,
/**
 * Which kind of evidence it is.
 */
kind: PieceKind,
/**
 * Before or after the trim.
 */
timing: Timing,
/**
 * What it is called here; empty where the pages' text table has it.
 */
name: string,
/**
 * What it is, in a line; empty where the pages' text table has it.
 */
help: string,
/**
 * What it asks, in the order of the screen.
 */
fields: Array<FieldView>,
/**
 * What it says so far, in a line; empty while it says nothing.
 */
says: string,
/**
 * What is to be said about it, with a field where a reason is wanted; may be empty.
 */
messages: Array<Message>, };
