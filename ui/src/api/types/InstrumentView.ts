// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { CodeLine } from "./CodeLine";
import type { DraftLine } from "./DraftLine";
import type { HistoryView } from "./HistoryView";
import type { Message } from "./Message";
import type { Plate } from "./Plate";
import type { SignedLine } from "./SignedLine";

/**
 * An instrument before a visit.
 */
export type InstrumentView = {
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
 * The one line before anything is scanned: zone, pit, permit, fluid, phone.
 */
hazards: Array<Message>,
/**
 * What the nameplate should say and what the register knows.
 */
plate: Array<Plate>,
/**
 * The codes that lead to it.
 */
codes: Array<CodeLine>,
/**
 * What is to be said of them and of the unit: pending, or claimed by another too.
 */
messages: Array<Message>,
/**
 * A draft that is open for it.
 */
draft: DraftLine | null,
/**
 * Earlier visits that were signed on this phone, newest first.
 */
signed: Array<SignedLine>,
/**
 * Its offset over the visits; none where no earlier visit is known.
 */
history: HistoryView | null,
/**
 * Why no visit can be begun here; none when one can.
 */
refusal: Message | null, };
