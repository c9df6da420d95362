// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * One of the three levels side by side: display, current, control room.
 */
export type Level3 = {
/**
 * `display`, `current` or `control_room`.
 */
who: string,
/**
 * As read, with unit; empty when skipped.
 */
read: string,
/**
 * The level it means, in the site's length unit; empty when unknown.
 */
level: string,
/**
 * What is to be said of it (NE 43 band, out of step); may be empty.
 */
says: string, };
