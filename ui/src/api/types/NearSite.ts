// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Hit } from "./Hit";

/**
 * A site with its instruments.
 */
export type NearSite = {
/**
 * The site's name in the register; may be empty.
 */
site: string,
/**
 * How far away it is; empty without a position.
 */
away: string,
/**
 * Its instruments, as they are listed under it.
 */
hits: Array<Hit>, };
