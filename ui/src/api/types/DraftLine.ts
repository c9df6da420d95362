// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A visit that was left open.
 */
export type DraftLine = {
/**
 * Its id.
 */
id: string,
/**
 * Tag and service.
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
 * The step it stopped at, as its word.
 */
step: string,
/**
 * When it was last touched.
 */
when: string, };
