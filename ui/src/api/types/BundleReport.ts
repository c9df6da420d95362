// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Message } from "./Message";

/**
 * What came of taking a bundle in.
 */
export type BundleReport = {
/**
 * The outcome in a sentence.
 */
text: string,
/**
 * What of it could not be used or differs from what is here, and what to do.
 */
messages: Array<Message>, };
