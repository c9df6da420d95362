// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { Message } from "./Message";
import type { ProgressView } from "./ProgressView";
import type { SendButton } from "./SendButton";
import type { SpaceView } from "./SpaceView";
import type { WaitingLine } from "./WaitingLine";

/**
 * What is sent, what waits, and why.
 */
export type SendView = {
/**
 * Which hub; empty for none.
 */
hub: string,
/**
 * Where all records are.
 */
status: string,
/**
 * Why something waits; empty where nothing does.
 */
why: string,
/**
 * What is under way; none where nothing is.
 */
progress: ProgressView | null,
/**
 * What the main button does.
 */
button: SendButton,
/**
 * Visits that are not whole at the hub, oldest first.
 */
waiting: Array<WaitingLine>,
/**
 * What else waits: "2 other records wait too (of links, fitted units, photos)."; empty for nothing.
 */
others: string,
/**
 * Photos may go where a connection is paid by volume.
 */
photos_metered: boolean,
/**
 * Nothing is sent until the person says so.
 */
paused: boolean,
/**
 * What went wrong, what was refused, and where a phone or its key was copied.
 */
messages: Array<Message>,
/**
 * What photos take on this phone, and what of it can be given back.
 */
space: SpaceView, };
