// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * One sensor, judged for this installation.
 */
export type PlanSensor = {
/**
 * What the utility calls it.
 */
name: string,
/**
 * What it can take: LRL to URL.
 */
range: string,
/**
 * True for the one that is fitted now.
 */
fitted: boolean,
/**
 * True where no limit is broken.
 */
fits: boolean,
/**
 * The error to be expected, as a height and as a part of the span; empty where it does not fit.
 */
error: string,
/**
 * What that is made of; empty where it does not fit.
 */
made_of: string,
/**
 * URL over span, and what is left up to its URL; empty where it does not fit.
 */
room: string,
/**
 * Why it does not fit, and what could not be judged.
 */
reasons: Array<string>, };
