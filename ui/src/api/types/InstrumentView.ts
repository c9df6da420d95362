// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

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
