// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * Whose labels are printed.
 */
export type LabelsOf = { "of": "one",
/**
 * Its tag.
 */
tag: string, } | { "of": "site",
/**
 * Its name.
 */
name: string, };
