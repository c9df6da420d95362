// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * Whether a piece was taken before the trim, and so may be what it rests on, or after it, as proof.
 */
export type Timing = "before" | "after";
