// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A number with the same in another unit.
 */
export type PlanNumber = {
/**
 * The number with its unit.
 */
value: string,
/**
 * The same in other words; may be empty.
 */
echo: string, };
