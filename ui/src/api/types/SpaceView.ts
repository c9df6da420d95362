// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { MayGoView } from "./MayGoView";

/**
 * What photos take on this phone.
 */
export type SpaceView = {
/**
 * What they take: "4 photos take 9.1 MB on this phone."
 */
takes: string,
/**
 * What may go; none where nothing may.
 */
may_go: MayGoView | null,
/**
 * What stays, and why; empty where nothing does.
 */
stays: string, };
