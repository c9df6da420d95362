// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * One line of the nameplate card.
 */
export type Plate = {
/**
 * What.
 */
what: string,
/**
 * Its value.
 */
value: string, };
