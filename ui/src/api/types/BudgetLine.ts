// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * One line of the uncertainty budget.
 */
export type BudgetLine = {
/**
 * The input.
 */
what: string,
/**
 * Its value with unit.
 */
value: string,
/**
 * Its standard uncertainty with unit.
 */
standard: string,
/**
 * Its distribution and divisor.
 */
distribution: string,
/**
 * Change of the shift for one unit of the input.
 */
sensitivity: string,
/**
 * Its part of the shift's standard uncertainty, in the reading unit.
 */
contribution: string,
/**
 * Degrees of freedom.
 */
freedom: string,
/**
 * Its share of the variance, 0 to 100.
 */
share: number, };
