// Where the app is. One value, so that two screens can never be open at once.
import type {
  Choice,
  EnrolView,
  HomeView,
  Hit,
  InstrumentView,
  LinkView,
  LabelsView,
  Message,
  PinView,
  PlanView,
  RecordView,
  RegisterReport,
  SendView,
  VisitView,
} from "../api/types";

export type Screen =
  | { at: "opening" }
  | { at: "home"; view: HomeView }
  | { at: "name"; view: HomeView }
  | { at: "pin"; view: PinView }
  | { at: "find"; code: string; message: Message | null; hits: Hit[] | null }
  | { at: "link"; code: string; hits: Hit[] }
  | { at: "link-to"; view: LinkView }
  | { at: "confirm"; view: InstrumentView; foundBy: Choice; code: string; message: Message | null }
  | { at: "plan"; view: PlanView; foundBy: Choice; code: string; message: Message | null }
  | { at: "visit"; view: VisitView }
  | { at: "record"; view: RecordView }
  | { at: "register"; report: RegisterReport }
  | { at: "labels"; view: LabelsView }
  | { at: "send"; view: SendView }
  | { at: "enrol"; view: EnrolView };

/** What a screen may ask the app for. Each waits for the core and shows the outcome or the trouble. */
export interface Ways {
  home(): Promise<void>;
  /** Sets, changes or takes off the PIN of whoever works with the phone. */
  pin(): Promise<void>;
  find(): Promise<void>;
  /** Asks whose a code is that was just scanned. */
  link(code: string): Promise<void>;
  /** Holds an instrument against its plate before the code is linked to it. */
  linkTo(tag: string, code: string): Promise<void>;
  instrument(tag: string, foundBy: Choice, code: string, message: Message | null): Promise<void>;
  plan(tag: string, foundBy: Choice, code: string, message: Message | null): Promise<void>;
  begin(tag: string, foundBy: Choice, code: string): Promise<void>;
  open(draft: string): Promise<void>;
  record(id: string): Promise<void>;
  labels(): Promise<void>;
  send(): Promise<void>;
  /** Makes the phone belong to a hub. */
  enrol(): Promise<void>;
}
