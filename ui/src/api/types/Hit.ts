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
 * True when the tag is exactly what was typed (separators and case aside).
 */
exact: boolean, };
