// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Message } from "./Message";

/**
 * The PIN that is asked for before a visit is signed.
 */
export type PinAsked = {
/**
 * How long to wait before it can be tried; none where it can be tried now.
 */
wait: Message | null,
/**
 * What it means to sign without it, with the field for the reason.
 */
without: Message, };
