// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A site whose instruments can be chosen together.
 */
export type LabelSite = {
/**
 * Its name.
 */
name: string,
/**
 * How many instruments it has.
 */
instruments: number, };
