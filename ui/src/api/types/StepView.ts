// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Drawing } from "./Drawing";
import type { FieldView } from "./FieldView";
import type { FivePointView } from "./FivePointView";
import type { HistoryView } from "./HistoryView";
import type { LeftView } from "./LeftView";
import type { Level3 } from "./Level3";
import type { MeasureNextView } from "./MeasureNextView";
import type { Message } from "./Message";
import type { NextView } from "./NextView";
import type { OfferView } from "./OfferView";
import type { PieceView } from "./PieceView";
import type { PlateLine } from "./PlateLine";
import type { ReviewPart } from "./ReviewPart";
import type { ShiftView } from "./ShiftView";
import type { SlipView } from "./SlipView";
import type { Step } from "./Step";
import type { TogetherView } from "./TogetherView";
import type { VerdictView } from "./VerdictView";

/**
 * The step on the screen.
 */
export type StepView = {
/**
 * Which of the eight is shown.
 */
step: Step,
/**
 * Cautions that stand on top.
 */
cautions: Array<Message>,
/**
 * The register beside the nameplate (Find).
 */
plate: Array<PlateLine>,
/**
 * What is asked, in the order of the screen; what a piece of evidence asks stands with it.
 */
fields: Array<FieldView>,
/**
 * What may be stated by one touch where everything is as usual.
 */
together: TogetherView | null,
/**
 * The evidence so far (Evidence), or the proof (As left).
 */
pieces: Array<PieceView>,
/**
 * What can be added.
 */
offers: Array<OfferView>,
/**
 * The three levels side by side (As found, As left).
 */
levels: Array<Level3>,
/**
 * What to measure next (Evidence, Shift).
 */
measure_next: MeasureNextView | null,
/**
 * The installation to scale (Evidence, Shift, As left).
 */
sketch: Drawing | null,
/**
 * The shift (Shift, As left).
 */
shift: ShiftView | null,
/**
 * The five-point check (As found; As left after a trim).
 */
five_point: FivePointView | null,
/**
 * What is left over the span (Shift, As left).
 */
left: LeftView | null,
/**
 * The verdict (As left, Sign).
 */
verdict: VerdictView | null,
/**
 * The instrument's offset over the visits, today's last (Sign).
 */
history: HistoryView | null,
/**
 * The whole visit to read over (Sign).
 */
review: Array<ReviewPart>,
/**
 * Slips the numbers give away, in what was typed on this step; on Shift those the shift rests on.
 */
slips: Array<SlipView>,
/**
 * What is to be said about the step.
 */
messages: Array<Message>,
/**
 * The one main button.
 */
next: NextView, };
