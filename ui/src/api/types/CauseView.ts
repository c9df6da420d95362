// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * Something that likely happened.
 */
export type CauseView = {
/**
 * The slip in a few words.
 */
what: string,
/**
 * Why it would explain the numbers.
 */
why: string,
/**
 * How to find out.
 */
tell: string, };
