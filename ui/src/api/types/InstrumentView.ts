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
 * Its tag.
 */
tag: string,
/**
 * Service.
 */
service: string,
/**
 * Site.
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
 * Earlier signed visits.
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
