// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * What is shown at one level.
 */
export type PlanPoint = {
/**
 * Part of the span: `25 %`.
 */
part: string,
/**
 * The level at that part of the span, in the site's length unit.
 */
level: string,
/**
 * What the display shows, in the range's unit; the unit itself stands at the range.
 */
display: string,
/**
 * The loop current in mA, as a bare number.
 */
current: string,
/**
 * What the control room shows, in the site's length unit.
 */
control_room: string, };
