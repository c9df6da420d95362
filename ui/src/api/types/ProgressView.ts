// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * How far sending has come.
 */
export type ProgressView = {
/**
 * What is going on: "Sending records".
 */
what: string,
/**
 * How far: "12 of 50 records, about 310 kB to go".
 */
how_far: string,
/**
 * Hundredths of it that are done; none where that cannot be known.
 */
percent: number | null, };
