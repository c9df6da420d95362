// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * One line of the working.
 */
export type WorkView = {
/**
 * What is being worked out.
 */
what: string,
/**
 * How.
 */
how: string,
/**
 * The value, with unit.
 */
value: string, };
