// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * How it is confirmed who signs a visit.
 */
export type Confirming = { "by": "nothing" } | { "by": "pin",
/**
 * As typed or pasted.
 */
pin: string, } | { "by": "without" };
