// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { CorrectedView } from "./CorrectedView";
import type { LeftPoint } from "./LeftPoint";
import type { Message } from "./Message";

/**
 * What is left over the span.
 */
export type LeftView = {
/**
 * The worst in a sentence.
 */
headline: string,
/**
 * The liquid's temperature today, with its unit.
 */
today: string,
/**
 * The coldest it gets; empty where it is not known.
 */
coldest: string,
/**
 * The warmest it gets; empty where it is not known.
 */
warmest: string,
/**
 * The errors over the span.
 */
points: Array<LeftPoint>,
/**
 * A range that would leave less, where the worst exceeds a third of the tolerance.
 */
corrected: CorrectedView | null,
/**
 * What is to be said of it.
 */
messages: Array<Message>, };
