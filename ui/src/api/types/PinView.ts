// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Message } from "./Message";

/**
 * The screen on which a PIN is set, changed and taken off.
 */
export type PinView = {
/**
 * The name of whoever works with the phone.
 */
technician: string,
/**
 * True where one is set.
 */
is_set: boolean,
/**
 * Where it stands, in a sentence or two.
 */
says: string,
/**
 * What a PIN is.
 */
rule: string,
/**
 * What to do where it is forgotten.
 */
forgotten: string,
/**
 * What came of the last change, or how long to wait before the next try.
 */
message: Message | null, };
