// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Message } from "./Message";

/**
 * Where display and target stand while the level moves.
 */
export type TargetView = {
/**
 * The time of day it holds at, to the second of local time.
 */
at: string,
/**
 * What the display should show now, untrimmed, with unit.
 */
from: string,
/**
 * What to trim it to now, with unit.
 */
to: string,
/**
 * What the trim adds, signed, with unit; it stays the same while the target moves.
 */
by: string,
/**
 * How sure the target is, which gets less with time: `± 0.05 ft (95 %)`.
 */
sure: string,
/**
 * What the display moves by in a minute, signed, with unit.
 */
a_minute: string,
/**
 * That the rate is too old to go by, and what to do; none while it is followed.
 */
read_again: Message | null, };
