// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A site whose instruments can be chosen together.
 */
export type LabelSite = {
/**
 * The site's name in the register.
 */
name: string,
/**
 * How many instruments it has.
 */
instruments: number, };
