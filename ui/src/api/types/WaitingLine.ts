// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A visit that is not whole at the hub.
 */
export type WaitingLine = {
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
 * Where it is: "Record sent, 3 photos still here".
 */
whereabouts: string, };
