// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { HistoryView } from "./HistoryView";
import type { Message } from "./Message";
import type { ReviewLine } from "./ReviewLine";
import type { ReviewPart } from "./ReviewPart";
import type { VerdictView } from "./VerdictView";
import type { WorkView } from "./WorkView";

/**
 * A signed record on the screen.
 */
export type RecordView = {
/**
 * Its entry's id.
 */
id: string,
/**
 * Tag.
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
 * When it was signed.
 */
when: string,
/**
 * By whom.
 */
technician: string,
/**
 * How the phone that it was signed on knew who signs: "By PIN", "No".
 */
confirmed: string,
/**
 * From, to, by, how sure, in a line each.
 */
shift: Array<ReviewLine>,
/**
 * The verdict.
 */
verdict: VerdictView,
/**
 * Everything, part by part.
 */
parts: Array<ReviewPart>,
/**
 * The instrument's offset over the visits, this one last; none where it is the first known.
 */
history: HistoryView | null,
/**
 * The working.
 */
working: Array<WorkView>,
/**
 * What was assumed.
 */
assumptions: Array<Message>,
/**
 * What was warned about.
 */
warnings: Array<Message>,
/**
 * "Signature checked", or what is wrong.
 */
proof: string,
/**
 * Its photos: "1 photo"; empty for none.
 */
photos: string,
/**
 * Where the record is: "on this phone".
 */
whereabouts: string,
/**
 * What a supervisor decided about it; none before.
 */
decision: Message | null, };
