// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { LabelPlace } from "./LabelPlace";
import type { Message } from "./Message";

/**
 * What will come out of the printer.
 */
export type LabelPreview = {
/**
 * What is printed, in words: labels, sheets, the size of a module, the reading distance.
 */
lines: Array<string>,
/**
 * The first label's width, in dots.
 */
width: number,
/**
 * The first label's height, in dots.
 */
height: number,
/**
 * Its ink, as the data of an SVG path.
 */
ink: string,
/**
 * What that label says, for those who cannot see it.
 */
says: string,
/**
 * The first sheet's width, in tenths of a millimetre.
 */
sheet_width: number,
/**
 * The first sheet's height, in tenths of a millimetre.
 */
sheet_height: number,
/**
 * Every place of the first sheet, row by row, printed on or left free.
 */
places: Array<LabelPlace>,
/**
 * What to know before printing.
 */
messages: Array<Message>, };
