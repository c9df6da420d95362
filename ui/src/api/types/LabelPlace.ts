// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * Where a label comes to lie on the first sheet, in tenths of a millimetre.
 */
export type LabelPlace = {
/**
 * Its left side, from the sheet's.
 */
x: number,
/**
 * Its upper side, from the sheet's.
 */
y: number,
/**
 * How wide it is.
 */
width: number,
/**
 * How high it is.
 */
height: number,
/**
 * Whether a label is printed there.
 */
used: boolean, };
