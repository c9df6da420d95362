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
 * The id of its entry: the log's name and the place in it.
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
 * When it was signed, as day and minute of the signing phone's local time: `25 Nov 2026 11:42`.
 */
when: string,
/**
 * Who signed it: their name, or how their number begins where no name is known here.
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
 * The verdict as it was signed.
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
 * The working as it was shown and signed, line by line.
 */
working: Array<WorkView>,
/**
 * What was assumed, as signed; may be empty.
 */
assumptions: Array<Message>,
/**
 * What was warned about, as signed; may be empty.
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
