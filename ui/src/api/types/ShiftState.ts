// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * What the Shift screen is about.
 */
export type ShiftState = "trim" | "do_not_adjust" | "not_determined" | "blocked";
