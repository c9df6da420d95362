// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { LabelOrder } from "./LabelOrder";
import type { LabelSheet } from "./LabelSheet";
import type { LabelSite } from "./LabelSite";

/**
 * What can be chosen.
 */
export type LabelsView = {
/**
 * The sites, with how many instruments each has.
 */
sites: Array<LabelSite>,
/**
 * The kinds of sheets that can be printed on.
 */
sheets: Array<LabelSheet>,
/**
 * Usual printers, in dots an inch.
 */
printers: Array<number>,
/**
 * Usual reading distances, in millimetres.
 */
distances: Array<number>,
/**
 * What to begin with: as it was last printed, or as most would.
 */
order: LabelOrder, };
