// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A visit that was left open.
 */
export type DraftLine = {
/**
 * The draft's id, by which it is opened and discarded.
 */
id: string,
/**
 * The instrument's tag, as the register writes it; never empty.
 */
tag: string,
/**
 * What the instrument serves, in the register's words; may be empty.
 */
service: string,
/**
 * The site's name in the register; may be empty.
 */
site: string,
/**
 * The step it stopped at, as its word.
 */
step: string,
/**
 * When it was last saved, as day and minute of local time: `25 Nov 2026 11:42`.
 */
when: string, };
