// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A kind of sheet.
 */
export type LabelSheet = {
/**
 * Names it in an order.
 */
key: string,
/**
 * In words: "A4, 2 by 4 labels of 99.1 by 67.7 mm".
 */
name: string,
/**
 * How many labels it has.
 */
places: number, };
