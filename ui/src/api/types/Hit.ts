// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * An instrument found by searching.
 */
export type Hit = {
/**
 * Its tag.
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
