// What everything inside a visit's screen shares: the visit, and the number pad.
import { createContext } from "svelte";
import type { Session } from "../../api/session.svelte";
import type { Pad } from "../pad/pad.svelte";

export const [session, setSession] = createContext<Session>();
export const [pad, setPad] = createContext<Pad>();
