// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * How far making a phone belong to a hub has come.
 */
export type EnrolStage = "begin" | "waiting" | "enrolled";
