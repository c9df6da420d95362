// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { FieldView } from "./FieldView";
import type { Grade } from "./Grade";

/**
 * Something said to the person: what happened and what to do next.
 */
export type Message = {
/**
 * A stable word for it.
 */
code: string,
/**
 * How grave it is, which decides its sign and colour.
 */
grade: Grade,
/**
 * What happened or what is so, in whole sentences; never empty.
 */
text: string,
/**
 * What to do next; may be empty when the sentence says it.
 */
remedy: string,
/**
 * Where a reason for going on can be given (a text field), if one is wanted.
 */
reason: FieldView | null, };
