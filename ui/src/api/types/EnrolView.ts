// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

import type { EnrolStage } from "./EnrolStage";

/**
 * The screen on which a phone is made to belong to a hub.
 */
export type EnrolView = {
/**
 * How far it has come.
 */
stage: EnrolStage,
/**
 * Which hub; empty for none.
 */
hub: string,
/**
 * The six digits; empty where none are to be compared.
 */
digits: string,
/**
 * Where it stands, in a sentence or two.
 */
says: string,
/**
 * What to do next, or in case of doubt.
 */
remedy: string,
/**
 * How the key that signs records is kept; empty where there is none yet.
 */
key: string, };
