// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * What a field takes.
 */
export type FieldKind = "length" | "reading" | "current" | "number" | "temperature" | "text" | "choice";
