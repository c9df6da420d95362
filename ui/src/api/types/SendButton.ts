// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * What the main button does.
 */
export type SendButton = "enrol" | "send" | "stop" | "resume";
