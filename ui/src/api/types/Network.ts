// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * What kind of connection there is.
 */
export type Network = "none" | "metered" | "unmetered" | "unknown";
