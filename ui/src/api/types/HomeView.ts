// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { AnswerLine } from "./AnswerLine";
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
 * True where they set a PIN on it.
 */
has_pin: boolean,
/**
 * Where the data is: "3 records on this phone".
 */
status: string,
/**
 * Visits left open, newest first.
 */
drafts: Array<DraftLine>,
/**
 * What a supervisor wants looked at, newest first; a visit to the instrument answers it.
 */
answers: Array<AnswerLine>,
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
