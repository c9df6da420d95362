// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * The error at one level.
 */
export type LeftPoint = {
/**
 * Part of the span: `25 %`.
 */
part: string,
/**
 * The level at that part of the span, in the site's length unit.
 */
level: string,
/**
 * The error today, signed.
 */
today: string,
/**
 * Its expanded uncertainty; empty where there is no evidence.
 */
uncertainty: string,
/**
 * The error when the liquid is coldest; empty where that is not known.
 */
coldest: string,
/**
 * The error when it is warmest; empty where that is not known.
 */
warmest: string, };
