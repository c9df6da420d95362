// A stand-in for the core: it keeps texts and shows views that the core made, and can be made slow or made to fail.
// It works nothing out.
import { emit } from "@tauri-apps/api/event";
import { mockIPC } from "@tauri-apps/api/mocks";
import type {
  BundleMade,
  CameraSource,
  CameraView,
  Change,
  CodeOutcome,
  Confirming,
  EnrolView,
  FieldView,
  HomeView,
  Message,
  PinView,
  RecordView,
  RecordedFrame,
  SendView,
  StepView,
  TargetView,
  VisitView,
} from "../src/api/types";
import type { Screen } from "../src/field/screen";
import { screenAt, stepAt, visitAt } from "./views";
import lists from "./views/lists.json";
import near from "./views/near.json";
import bySite from "./views/near-by-site.json";
import labelPreview from "./views/label-preview.json";
import pinWrong from "./views/pin-wrong.json";
import status from "./views/status.json";
import target from "./views/target.json";

/** How the stand-in behaves, and what it was sent. */
interface Look {
  delay: number;
  fail: boolean;
  sent: Change[];
  /** How visits were begun. */
  begun: unknown[];
  pieces: number;
  /** Where frames come from. */
  camera: CameraSource;
  /** What a photo shows. */
  photo: keyof typeof photos;
  /** Whether there are so many sites that they are closed. */
  closed: boolean;
  /** Frames that came, by how far their brightest and darkest pixels lie apart. */
  frames: number[];
  /** What sending was asked to do. */
  asks: string[];
  /** Where the target stands, and how often it was asked for. */
  target: TargetView | null;
  asked: number;
  /** Says that something changed, as the core does. */
  tell: () => void;
  /** How often the first screen and a record were asked for, and how late the next answers come: each with a name of its own. */
  homes: { asked: number; late: { delay: number; technician: string }[] };
  /** The PIN that is set. */
  pin: string;
  /** How signing was confirmed, and what else was done with a PIN. */
  pins: (Confirming | PinAsk)[];
  /** Ends the wait that wrong PINs cost. */
  waitOver: () => void;
}

/** What the screen of a PIN asked for. */
interface PinAsk {
  command: string;
  old: string;
  pin: string;
  again: string;
}

declare global {
  interface Window {
    look: Look;
  }
}

const full: Message = {
  code: "store.full",
  grade: "refusal",
  text: "The phone's storage is full, so this was not saved.",
  remedy: "Free some space, then try again.",
  reason: null,
};

const wrong: Message = { ...pinWrong, grade: "warning", reason: null };

let visit: VisitView = visitAt("find");

function withText(field: FieldView, change: Extract<Change, { do: "answer" }>): FieldView {
  const here = field.key === change.key && field.piece === change.piece && field.row === change.row;
  if (!here) return field;
  const options = field.options.map((option) => ({ ...option, chosen: option.value === change.text }));
  const echo = field.kind === "choice" || change.text === "" ? "" : `kept as "${change.text}"`;
  return { ...field, text: change.text, echo, options, problem: null, which: [] };
}

function after(now: StepView, change: Change): StepView {
  if (change.do === "go") return stepAt(change.step);
  if (change.do === "remove") {
    return { ...now, pieces: now.pieces.filter((piece) => piece.id !== change.piece) };
  }
  if (change.do === "together") {
    const stated: Change[] = change.answers.map((one) => ({ do: "answer", piece: 0, ...one }));
    const then = stated.reduce(after, { ...now, together: null });
    return now.together?.leads_to ? stepAt(now.together.leads_to) : then;
  }
  if (change.do === "add") {
    // As the core does: what is proposed on Shift is measured on Evidence.
    const there = now.step === "shift" && change.timing === "before" ? stepAt("evidence") : now;
    const words = { name: "", help: "" };
    const piece = { id: 90 + there.pieces.length, kind: change.kind, timing: change.timing, ...words };
    return { ...there, pieces: [...there.pieces, { ...piece, fields: [], says: "", messages: [] }] };
  }
  const fields = now.fields.map((field) => withText(field, change));
  const pieces = now.pieces.map((piece) => ({
    ...piece,
    fields: piece.fields.map((field) => withText(field, change)),
  }));
  const check = now.five_point && {
    ...now.five_point,
    fields: now.five_point.fields.map((field) => withText(field, change)),
    points: now.five_point.points.map((point) => ({
      ...point,
      fields: point.fields.map((field) => withText(field, change)),
    })),
  };
  return { ...now, fields, pieces, five_point: check };
}

/** Where a reason for going without the PIN is given. */
function withReason(signing: VisitView["signing"], change: Change): VisitView["signing"] {
  const reason = signing?.pin?.without.reason;
  if (!signing?.pin || !reason || change.do !== "answer") return signing;
  const without = { ...signing.pin.without, reason: withText(reason, change) };
  return { ...signing, pin: { ...signing.pin, without } };
}

async function changed(change: Change): Promise<VisitView> {
  await new Promise((resolve) => setTimeout(resolve, window.look.delay));
  if (window.look.fail) throw full;
  window.look.sent.push(change);
  visit = {
    ...visit,
    now: after(visit.now, change),
    signing: withReason(visit.signing, change),
    saved: `Saved 10:42:${10 + (window.look.sent.length % 50)}`,
  };
  return visit;
}

function isChange(value: unknown): value is Change {
  return typeof value === "object" && value !== null && "do" in value;
}

/** A plate with some marks on it, as a camera would see it. */
function recorded(): RecordedFrame {
  const side = 200;
  const dark = (x: number, y: number) => (x >> 3) % 3 === 0 || (y >> 3) % 5 === 0;
  const isPlate = (x: number, y: number) => x > 50 && x < 150 && y > 50 && y < 150;
  let pixels = "";
  for (let y = 0; y < side; y += 1) {
    for (let x = 0; x < side; x += 1) {
      pixels += String.fromCharCode(isPlate(x, y) ? (dark(x, y) ? 40 : 225) : 120 + (y >> 2));
    }
  }
  return { width: side, height: side, base64: btoa(pixels) };
}

/** Takes black beside white for a label; it is the core that reads. */
function lookedAt(base64: string): CodeOutcome | null {
  const shades = [...atob(base64)].map((pixel) => pixel.charCodeAt(0));
  const range =
    shades.reduce((most, one) => Math.max(most, one), 0) -
    shades.reduce((least, one) => Math.min(least, one), 255);
  window.look.frames.push(range);
  if (range < 150 || window.look.camera === "recorded") return null;
  return {
    what: "found",
    tag: screenAt("confirm", "confirm").view.tag,
    code: LABEL,
    message: null,
  };
}

/** What the stand-in's label says. */
const LABEL = "MDW/ASSET/40117";

/** What comes of a photo: nothing; one label; one label and another that was not read; a label that two instruments claim. */
const photos = {
  not_read: () => ({ what: "not_read", longer: true, message: screenAt("find", "find-not-read").message }),
  found: () => ({ what: "found", tag: screenAt("confirm", "confirm").view.tag, code: LABEL, message: null }),
  beside: () => {
    const { view, code, message } = screenAt("confirm", "confirm-unread");
    return { what: "found", tag: view.tag, code, message };
  },
  several: () => ({ what: "several", ...screenAt("find", "find-several") }),
};

const closed = { ...bySite, sites: bySite.sites.map((site) => ({ ...site, hits: [] })) };

/** Which of the views of sending is shown now. */
let sends: SendView = screenAt("send", "send").view;
let homes: HomeView = screenAt("home", "home").view;
let records: RecordView = screenAt("record", "record").view;
let enrols: EnrolView = screenAt("enrol", "enrol").view;

function sending(command: string, args: unknown): unknown {
  if (window.look.fail) return Promise.reject(full);
  if (!["exchange_status", "exchange_view", "exchange_network", "enrol_view"].includes(command)) {
    window.look.asks.push(command);
  }
  switch (command) {
    case "exchange_status":
      return { ...status, now: sends.progress ? status.now : "" };
    case "exchange_now":
      sends = screenAt("send", "send-under-way").view;
      return sends;
    case "exchange_cancel":
      sends = screenAt("send", "send").view;
      return sends;
    case "exchange_allow":
      sends = { ...sends, photos_metered: isOn(args, "photosMetered"), paused: isOn(args, "paused") };
      return sends;
    case "exchange_network":
      return null;
    case "photos_free":
      sends = screenAt("send", "send-freed").view;
      return "2 photos were taken off this phone, which frees 2.3 MB.";
    case "enrol":
      enrols = screenAt("enrol", "enrol-waiting").view;
      return enrols;
    case "enrol_give_up":
      enrols = screenAt("enrol", "enrol").view;
      return enrols;
    case "enrol_view":
      return enrols;
    default:
      return sends;
  }
}

async function late<View extends HomeView | RecordView>(view: View): Promise<View> {
  window.look.homes.asked += 1;
  const how = window.look.homes.late.shift();
  if (!how) return view;
  await new Promise((resolve) => setTimeout(resolve, how.delay));
  return { ...view, technician: how.technician };
}

let pins: PinView = screenAt("pin", "pin").view;

function pin(command: string, args: unknown): unknown {
  if (command === "pin_view") return pins;
  const ask = { command, old: textOf(args, "old"), pin: textOf(args, "pin"), again: textOf(args, "again") };
  window.look.pins.push(ask);
  if (command !== "pin_set" && ask.old !== window.look.pin) return Promise.reject(wrong);
  if (command !== "pin_remove") window.look.pin = ask.pin;
  pins = screenAt("pin", command === "pin_remove" ? "pin" : "pin-done").view;
  return pins;
}

function signed(args: unknown): unknown {
  const how: unknown = typeof args === "object" && args !== null ? Reflect.get(args, "confirming") : null;
  if (!isConfirming(how)) return Promise.reject(full);
  window.look.pins.push(how);
  if (how.by === "pin" && how.pin !== window.look.pin) return Promise.reject(wrong);
  return records;
}

function isConfirming(value: unknown): value is Confirming {
  return typeof value === "object" && value !== null && "by" in value;
}

function textOf(args: unknown, name: string): string {
  const text: unknown = typeof args === "object" && args !== null ? Reflect.get(args, name) : "";
  return typeof text === "string" ? text : "";
}

function isOn(args: unknown, name: string): boolean {
  return typeof args === "object" && args !== null && Reflect.get(args, name) === true;
}

/** Puts the stand-in where the shell would be. */
export function standIn(): void {
  window.look = {
    delay: 0,
    fail: false,
    sent: [],
    pieces: 0,
    camera: "device",
    photo: "not_read",
    begun: [],
    closed: false,
    frames: [],
    asks: [],
    target,
    asked: 0,
    tell: () => void emit("exchange"),
    homes: { asked: 0, late: [] },
    pin: "481516",
    pins: [],
    waitOver: () => {
      if (visit.signing?.pin) {
        visit = { ...visit, signing: { ...visit.signing, pin: { ...visit.signing.pin, wait: null } } };
      }
    },
  };
  mockIPC(
    (command, args) => {
      if (/^(exchange_|enrol|photos_free)/.test(command)) return sending(command, args);
      if (command.startsWith("pin_")) return pin(command, args);
      switch (command) {
        case "home":
          return late(homes);
        case "set_technician":
        case "visit_discard":
          return screenAt("home", "home").view;
        case "search":
          return screenAt("find", "find").hits;
        case "instrument":
          return screenAt("confirm", "confirm").view;
        case "lists":
          return lists;
        case "near":
          if (window.look.closed) return closed;
          return args && "position" in args && args.position !== null ? near : bySite;
        case "near_site":
          return { ...bySite.sites.find(({ site }) => site === textOf(args, "site")), rest: "60 more" };
        case "link_ask":
          return screenAt("link-to", "link-to").view;
        case "link":
          return screenAt("confirm", "confirm-linked").view.messages[0];
        case "plan":
          return screenAt("plan", "plan").view;
        case "labels":
          return screenAt("labels", "labels").view;
        case "labels_preview":
          return labelPreview;
        case "labels_export":
          return "exports/labels-LT-2041.pdf";
        case "photo_add":
          visit = { ...visit, photos: "1 photo" };
          return visit;
        case "bundle_make":
          return {
            path: "Documents/Headmark/records-2026-11-25.headmark-bundle",
            text: "12 records are in the file.",
            messages: [],
          } satisfies BundleMade;
        case "bundle_take":
          return { text: "3 records were new and were taken in.", messages: [] };
        case "upload_begin":
          return "1";
        case "upload_piece":
          window.look.pieces += 1;
          return null;
        case "upload_drop":
          return null;
        case "camera":
          return { source: window.look.camera, side: 512 } satisfies CameraView;
        case "recorded_frame":
          return recorded();
        case "find_frame": {
          const text: unknown = args && "base64" in args ? args.base64 : null;
          return typeof text === "string" ? lookedAt(text) : Promise.reject(full);
        }
        case "find_longer":
          return { what: "not_read", longer: false, message: screenAt("find", "find-unread").message };
        case "find_photo":
          return photos[window.look.photo]();
        case "register_load":
          return screenAt("register", "register").report;
        case "visit_begin":
          window.look.begun.push(args);
          return visit;
        case "visit_open":
          return visit;
        case "visit_change": {
          const change: unknown = args && "change" in args ? args.change : null;
          return isChange(change) ? changed(change) : Promise.reject(full);
        }
        case "target":
          window.look.asked += 1;
          if (window.look.fail) throw full;
          return window.look.target;
        case "visit_sign":
          return signed(args);
        case "record":
          return late(records);
        case "record_export":
          return "Documents/Headmark/LT-2041-2026-11-25.headmark";
        default:
          throw new Error(`the stand-in has no command ${command}`);
      }
    },
    { shouldMockEvents: true },
  );
}

/** What each find screen looks through. */
const cameras: Record<string, CameraSource> = {
  find: "recorded",
  enrol: "recorded",
  "find-refused": "refused",
};

/** Brings the stand-in to the place of a screen: its visit is the one to change, its camera the one to look through. */
export function standAt(name: string, screen: Screen): void {
  if (screen.at === "visit") visit = screen.view;
  if (screen.at === "home") homes = screen.view;
  if (screen.at === "record") records = screen.view;
  if (screen.at === "pin") pins = screen.view;
  if (screen.at === "send") sends = screen.view;
  if (screen.at === "enrol") enrols = screen.view;
  if (screen.at === "find" || screen.at === "enrol") window.look.camera = cameras[name] ?? "device";
}
