// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Message } from "./Message";
import type { Plate } from "./Plate";

/**
 * What to hold against the plate before a code is linked to an instrument.
 */
export type LinkView = {
/**
 * The instrument's tag, as the register writes it; never empty.
 */
tag: string,
/**
 * What the instrument serves, in the register's words; may be empty.
 */
service: string,
/**
 * The site's name in the register; may be empty.
 */
site: string,
/**
 * The code's text, made safe to show.
 */
code: string,
/**
 * What stands on the plate.
 */
plate: Array<Plate>,
/**
 * What stands against it.
 */
messages: Array<Message>,
/**
 * True where the code leads to this instrument already.
 */
is_known: boolean, };
