// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { LabelsOf } from "./LabelsOf";

/**
 * What is to be printed, and how.
 */
export type LabelOrder = {
/**
 * Which instruments' labels are printed.
 */
labels: LabelsOf,
/**
 * The utility's own host, which the codes name.
 */
host: string,
/**
 * The key of the kind of sheet.
 */
sheet: string,
/**
 * The first free label of the first sheet, counted row by row from 1.
 */
first: number,
/**
 * The printer's dots an inch.
 */
printer: number,
/**
 * From how far they are to be read, in millimetres.
 */
distance: number, };
