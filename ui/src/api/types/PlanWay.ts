// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A way to range.
 */
export type PlanWay = "trimmed" | "raw";
