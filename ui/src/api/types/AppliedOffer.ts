// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A value to apply, put in by one touch once it is.
 */
export type AppliedOffer = {
/**
 * The text to send.
 */
text: string,
/**
 * How it reads, with its unit.
 */
label: string, };
