// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A signed visit.
 */
export type SignedLine = {
/**
 * The id of its entry, by which its record is opened.
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
 * When it was signed, as day and minute of local time: `25 Nov 2026 11:42`.
 */
when: string,
/**
 * The verdict, in a line.
 */
verdict: string,
/**
 * What a supervisor decided about it, in a line; empty before.
 */
decision: string, };
