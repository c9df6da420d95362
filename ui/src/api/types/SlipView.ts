// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { CauseView } from "./CauseView";
import type { Message } from "./Message";

/**
 * A slip: what was seen, what was expected, what likely happened, and how to tell.
 */
export type SlipView = {
/**
 * The code, and the field for the reason for going on.
 */
message: Message,
/**
 * What was expected, and by what.
 */
expected: string,
/**
 * What likely happened, likeliest first; may be empty.
 */
causes: Array<CauseView>,
/**
 * How to tell these apart.
 */
apart: string, };
