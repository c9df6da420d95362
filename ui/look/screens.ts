// Every screen that can be looked at, by name.
import type { Screen } from "../src/field/screen";
import type { CameraSource, Message, PlanView, Step } from "../src/api/types";
import { standAt } from "./core";
import { hits, home, homeEmpty, instrument, instrumentRefused, register } from "./views/first";
import { note, warning } from "./views/make";
import { plan, planAbove, planRefused } from "./views/plan";
import { signed } from "./views/record";
import {
  asFoundChecked,
  asFoundSlipped,
  asLeftChecked,
  shiftMoving,
  shiftOpen,
  shiftSlipped,
  visitAt,
} from "./views/visit";

const planned = (view: PlanView): Screen => ({
  at: "plan",
  view,
  foundBy: "by_list",
  code: "",
  message: null,
});

const step = (name: Step): Screen => ({ at: "visit", view: visitAt(name) });

const confirm = (message: Message | null): Screen => ({
  at: "confirm",
  view: instrument,
  foundBy: "by_code",
  code: "MDW/ASSET/40117",
  message,
});

const unknown = {
  ...note("code.unknown", "No instrument claims this code."),
  remedy: "Type the tag instead; the code is kept with the visit.",
};

const unread = {
  ...note("code.unread", "A code is in the picture but could not be read."),
  remedy:
    "Photograph it from nearer, from the front, without glare; wipe the label if it is dirty; or type the tag on the plate.",
};
const unreadBeside = {
  ...warning(
    "code.unread_beside",
    "Another code in the picture could not be read; this is the instrument of the one that was read.",
  ),
  remedy: "Compare tag and serial number with the plate before you begin.",
};

const made: Record<string, () => Screen> = {
  name: () => ({ at: "name", view: { ...homeEmpty, technician: "" } }),
  "home-empty": () => ({ at: "home", view: homeEmpty }),
  home: () => ({ at: "home", view: home }),
  find: () => ({ at: "find", code: "", message: null, hits }),
  "find-live": () => ({ at: "find", code: "", message: null, hits: null }),
  "find-refused": () => ({ at: "find", code: "", message: null, hits }),
  "find-unknown": () => ({ at: "find", code: "MDW/ASSET/40117", message: unknown, hits }),
  "find-unread": () => ({ at: "find", code: "", message: unread, hits }),
  confirm: () => confirm(null),
  "confirm-unread": () => confirm(unreadBeside),
  "confirm-refused": () => ({
    at: "confirm",
    view: instrumentRefused,
    foundBy: "by_list",
    code: "",
    message: null,
  }),
  plan: () => planned(plan),
  "plan-above": () => planned(planAbove),
  "plan-refused": () => planned(planRefused),
  "1-find": () => step("find"),
  "2-make-safe": () => step("make_safe"),
  "3-as-found": () => step("as_found"),
  "3-as-found-check": () => ({ at: "visit", view: visitAt("as_found", asFoundChecked) }),
  "4-evidence": () => step("evidence"),
  "5-shift": () => step("shift"),
  "3-as-found-slips": () => ({ at: "visit", view: visitAt("as_found", asFoundSlipped) }),
  "5-shift-slip": () => ({ at: "visit", view: visitAt("shift", shiftSlipped) }),
  "5-shift-open": () => ({ at: "visit", view: visitAt("shift", shiftOpen) }),
  "5-shift-moving": () => ({ at: "visit", view: visitAt("shift", shiftMoving) }),
  "6-as-left": () => step("as_left"),
  "6-as-left-check": () => ({ at: "visit", view: visitAt("as_left", asLeftChecked) }),
  "7-back-in-service": () => step("back_in_service"),
  "8-sign": () => step("sign"),
  record: () => ({ at: "record", view: signed }),
  register: () => ({ at: "register", report: register }),
};

/** What each find screen looks through. */
const cameras: Record<string, CameraSource> = {
  find: "recorded",
  "find-refused": "refused",
};

export const names = Object.keys(made);

/** Returns a screen by its name, with the stand-in brought to the same place. */
export function screenOf(name: string): Screen | undefined {
  const screen = made[name]?.();
  if (screen?.at === "visit") standAt(screen.view);
  if (screen?.at === "find") window.look.camera = cameras[name] ?? "device";
  return screen;
}
