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
 * In words: "A4, 2 × 4 of 99.1 × 67.7 mm".
 */
name: string,
/**
 * How many labels it has.
 */
places: number, };
