// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { LeadsTo } from "./LeadsTo";
import type { Message } from "./Message";

/**
 * One thing that is still missing.
 */
export type MissingView = {
/**
 * What is said of it.
 */
message: Message,
/**
 * Where a tap leads.
 */
leads: LeadsTo, };
