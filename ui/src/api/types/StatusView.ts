// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * Where all records are, in one line.
 */
export type StatusView = {
/**
 * Where all records are: `3 records: 2 at the hub, 1 only here`.
 */
line: string,
/**
 * What is going on now: "Sending: 12 of 50 records"; empty where nothing is.
 */
now: string,
/**
 * True where something waits to be sent.
 */
waits: boolean,
/**
 * True where this phone belongs to a hub, or waits to.
 */
has_hub: boolean, };
