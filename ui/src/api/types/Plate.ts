// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * One line of the nameplate card.
 */
export type Plate = {
/**
 * The name of a line: `Serial number`.
 */
what: string,
/**
 * What stands there, with its unit.
 */
value: string, };
