// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * Where a label comes to lie on the first sheet, in tenths of a millimetre.
 */
export type LabelPlace = {
/**
 * From the left.
 */
x: number,
/**
 * From above.
 */
y: number,
/**
 * Its width.
 */
width: number,
/**
 * Its height.
 */
height: number,
/**
 * Whether a label is printed there.
 */
used: boolean, };
