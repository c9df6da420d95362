// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Reminder } from "./Reminder";
import type { SigningView } from "./SigningView";
import type { StepState } from "./StepState";
import type { StepView } from "./StepView";

/**
 * A visit on the screen.
 */
export type VisitView = {
/**
 * The draft's id, by which it is changed.
 */
id: string,
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
 * The eight steps, in their order.
 */
steps: Array<StepState>,
/**
 * The step that is shown, with all that is on it.
 */
now: StepView,
/**
 * "Saved 10:42:07": said only after the commit.
 */
saved: string,
/**
 * The photos so far, where some can be added (As found, Evidence); none on other steps.
 */
photos: string | null,
/**
 * Who signs, and how that is confirmed (Sign); none on other steps, and where nobody said who works with the phone.
 */
signing: SigningView | null,
/**
 * Alarms inhibited until when.
 */
reminder: Reminder | null, };
