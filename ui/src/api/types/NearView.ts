// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Message } from "./Message";
import type { NearSite } from "./NearSite";

/**
 * What is near, or all sites where no position is known.
 */
export type NearView = {
/**
 * Sites, the nearest first; without a position the one used last first.
 */
sites: Array<NearSite>,
/**
 * How sure the position is, or why there is none.
 */
message: Message, };
