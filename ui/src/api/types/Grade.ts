// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * How grave a message is.
 */
export type Grade = "note" | "warning" | "refusal" | "danger";
