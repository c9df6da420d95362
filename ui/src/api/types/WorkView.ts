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
 * The formula with its numbers put in, or where the value is from; may be empty.
 */
how: string,
/**
 * What comes out, with its unit.
 */
value: string, };
