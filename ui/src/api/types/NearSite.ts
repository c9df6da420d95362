// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Hit } from "./Hit";

/**
 * A site with its instruments.
 */
export type NearSite = {
/**
 * Its name.
 */
site: string,
/**
 * How far away it is; empty without a position.
 */
away: string,
/**
 * Its instruments.
 */
hits: Array<Hit>, };
