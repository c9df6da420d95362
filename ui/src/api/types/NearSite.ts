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
 * How many instruments it has, in words; empty with a position, where only the nearest are listed.
 */
holds: string,
/**
 * Its instruments; empty while it is closed.
 */
hits: Array<Hit>,
/**
 * How many more it has and how to reach them; empty where all are listed or it is closed.
 */
rest: string, };
