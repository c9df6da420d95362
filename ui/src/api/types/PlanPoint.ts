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
 * The level.
 */
level: string,
/**
 * The display, in the range's unit.
 */
display: string,
/**
 * The loop current, mA.
 */
current: string,
/**
 * The control room.
 */
control_room: string, };
