// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * Whose labels are printed.
 */
export type LabelsOf = { "of": "one",
/**
 * The instrument's tag, as the register writes it; never empty.
 */
tag: string, } | { "of": "site",
/**
 * The site's name in the register; may be empty.
 */
name: string, };
