// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { DraftLine } from "./DraftLine";
import type { Message } from "./Message";
import type { SignedLine } from "./SignedLine";

/**
 * The first screen.
 */
export type HomeView = {
/**
 * Who works with this phone; empty until told.
 */
technician: string,
/**
 * Where the data is: "3 records on this phone".
 */
status: string,
/**
 * Visits left open, newest first.
 */
drafts: Array<DraftLine>,
/**
 * Signed visits, newest first.
 */
signed: Array<SignedLine>,
/**
 * How many instruments the register holds.
 */
instruments: number,
/**
 * Name and date of the register loaded; empty for none.
 */
register: string,
/**
 * What is to be said, such as a damaged file that was salvaged.
 */
messages: Array<Message>, };
