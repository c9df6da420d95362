// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Drawing } from "./Drawing";
import type { HistoryRow } from "./HistoryRow";
import type { WorkView } from "./WorkView";

/**
 * The history of an instrument.
 */
export type HistoryView = {
/**
 * Standing offset against date; none where no visit holds one.
 */
chart: Drawing | null,
/**
 * The visits, newest first.
 */
rows: Array<HistoryRow>,
/**
 * Drift, steps, the next interval and when it is due.
 */
lines: Array<WorkView>, };
