// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Change } from "./Change";

/**
 * A way out that a refusal offers, as a button.
 */
export type Remedy = {
/**
 * The words of the button.
 */
label: string,
/**
 * What pressing it does.
 */
change: Change, };
