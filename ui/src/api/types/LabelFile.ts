// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * What is made.
 */
export type LabelFile = "pdf" | "svg" | "png";
