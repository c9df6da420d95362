// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Hit } from "./Hit";
import type { Message } from "./Message";

/**
 * What a scanned code led to.
 */
export type CodeOutcome = { "what": "found",
/**
 * The instrument's tag, as the register writes it; never empty.
 */
tag: string,
/**
 * The code's text, made safe to show.
 */
code: string,
/**
 * What else was in view and may matter: then the person says first that this instrument is meant.
 */
message: Message | null, } | { "what": "unknown",
/**
 * The code's text, made safe to show.
 */
code: string,
/**
 * What to do next.
 */
message: Message,
/**
 * True where it may be linked to an instrument.
 */
linkable: boolean, } | { "what": "several",
/**
 * The instruments that claim it, two or more.
 */
hits: Array<Hit>,
/**
 * The text of the code that all of them claim, made safe to show; empty where they are of several codes.
 */
code: string,
/**
 * What to do next.
 */
message: Message, } | { "what": "not_read",
/**
 * What to do next.
 */
message: Message,
/**
 * True where a longer look at the same photo may still tell something.
 */
longer: boolean, };
