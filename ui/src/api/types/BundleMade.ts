// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Message } from "./Message";

/**
 * What came of writing a bundle.
 */
export type BundleMade = {
/**
 * Where the file is.
 */
path: string,
/**
 * What is in it, in a sentence.
 */
text: string,
/**
 * What did not go in, and what to do.
 */
messages: Array<Message>, };
