// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Message } from "./Message";

/**
 * Where display and target stand while the level moves.
 */
export type TargetView = {
/**
 * The time of day it holds at.
 */
at: string,
/**
 * What the display should show now.
 */
from: string,
/**
 * What to trim it to.
 */
to: string,
/**
 * The change, signed.
 */
by: string,
/**
 * How sure the target is, which gets less with time.
 */
sure: string,
/**
 * What the display moves by in a minute.
 */
a_minute: string,
/**
 * That the rate is too old to go by, and what to do; none while it is followed.
 */
read_again: Message | null, };
