// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A reading of a doubtful text: tapping it puts that text in place of what was typed.
 */
export type Which = {
/**
 * The text to send.
 */
text: string,
/**
 * How it reads, in both systems.
 */
label: string, };
