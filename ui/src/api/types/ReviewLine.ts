// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * One line to read over.
 */
export type ReviewLine = {
/**
 * What was asked or worked out, by its name in a record.
 */
what: string,
/**
 * As answered, or as worked out.
 */
value: string,
/**
 * How it was read; may be empty.
 */
echo: string, };
