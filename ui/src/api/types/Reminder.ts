// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * The running reminder of inhibited alarms.
 */
export type Reminder = {
/**
 * The sentence, with the time at which the inhibition runs out.
 */
text: string,
/**
 * Minutes left; negative when it ran out.
 */
minutes_left: number, };
