// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { PinAsked } from "./PinAsked";

/**
 * Who signs, on the last step.
 */
export type SigningView = {
/**
 * The name of whoever signs.
 */
technician: string,
/**
 * How that is confirmed, and what the record will say of it.
 */
says: string,
/**
 * What is asked of them; none where they set no PIN.
 */
pin: PinAsked | null, };
