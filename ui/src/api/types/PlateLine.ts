// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A line of the nameplate beside the register's.
 */
export type PlateLine = {
/**
 * The name of the line: `Tag`, `Serial number`.
 */
what: string,
/**
 * What the register says, with its unit; empty where it says nothing.
 */
register: string,
/**
 * What was read off the plate; empty where nothing was yet, or is not asked.
 */
plate: string, };
