// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A visit that is not whole at the hub.
 */
export type WaitingLine = {
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
 * Where it is: "Record sent, 3 photos still here".
 */
whereabouts: string, };
