// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * One of the eight steps of a visit.
 */
export type Step = "find" | "make_safe" | "as_found" | "evidence" | "shift" | "as_left" | "back_in_service" | "sign";
