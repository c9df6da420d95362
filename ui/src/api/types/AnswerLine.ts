// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Message } from "./Message";

/**
 * A visit that a supervisor returned, or a proposal that was declined.
 */
export type AnswerLine = {
/**
 * The instrument's tag, as the register writes it; never empty.
 */
tag: string,
/**
 * Service; empty for a proposal.
 */
service: string,
/**
 * Site; empty for a proposal.
 */
site: string,
/**
 * The visit's record; empty for a proposal, which stands on its instrument.
 */
record: string,
/**
 * What was decided, by whom, in which words.
 */
message: Message, };
