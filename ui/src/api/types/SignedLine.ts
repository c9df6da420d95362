// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A signed visit.
 */
export type SignedLine = {
/**
 * Its entry's id.
 */
id: string,
/**
 * Tag.
 */
tag: string,
/**
 * Service.
 */
service: string,
/**
 * Site.
 */
site: string,
/**
 * When it was signed.
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
