// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * One line of the uncertainty budget.
 */
export type BudgetLine = {
/**
 * What the input is, in words: `display`, `hatch mark above zero`.
 */
what: string,
/**
 * Its value with its unit: `14.2560 m`, `4.00 mm`, `101.5 Pa`.
 */
value: string,
/**
 * Its standard uncertainty, in the units of the value.
 */
standard: string,
/**
 * Its distribution, and what divides its width to make it standard: `rectangular, ÷ 1.73`.
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
 * Its degrees of freedom, whole; `∞` where there is no end of them.
 */
freedom: string,
/**
 * Its share of the variance, 0 to 100.
 */
share: number, };
