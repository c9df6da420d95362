// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A code on an instrument.
 */
export type CodeLine = {
/**
 * Its text, made safe to show.
 */
code: string,
/**
 * True where it was linked here and the register does not have it yet.
 */
pending: boolean, };
