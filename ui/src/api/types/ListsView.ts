// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Hit } from "./Hit";

/**
 * The lists that an instrument can be picked from.
 */
export type ListsView = {
/**
 * What the register says is due or to be done, the most urgent first.
 */
work: Array<Hit>,
/**
 * What was visited on this phone, newest first.
 */
recent: Array<Hit>, };
