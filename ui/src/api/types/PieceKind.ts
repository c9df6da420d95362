// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * Kinds of evidence.
 */
export type PieceKind = "known_empty" | "dip" | "drop" | "riser" | "vented" | "overflow" | "other_instrument" | "earlier_visit";
