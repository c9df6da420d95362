// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * An instrument found by searching.
 */
export type Hit = {
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
 * Serial number: what confirms it.
 */
serial: string,
/**
 * True where the tag is what was typed, case and left-out separators aside, and no other tag may be.
 */
exact: boolean,
/**
 * What else to say of it in its list: how far away, when due, when visited; may be empty.
 */
beside: string, };
