// The views that are looked at: what the core gives on days that were made up, written by `cargo run -p looks`.
import type { Screen } from "../src/field/screen";
import type { Step, StepView, VisitView } from "../src/api/types";

const files = import.meta.glob<Screen>(
  [
    "./views/*.json",
    "!./views/target.json",
    "!./views/lists.json",
    "!./views/near*.json",
    "!./views/label-preview.json",
    "!./views/pin-wrong.json",
    "!./views/status.json",
  ],
  {
    eager: true,
    import: "default",
  },
);

const all = new Map(
  Object.entries(files).map(([path, screen]) => [path.replace(/^.*\/|\.json$/g, ""), screen]),
);

export const names = [...all.keys()];

/** Returns a screen by its name. */
export function screenOf(name: string): Screen | undefined {
  return all.get(name);
}

type At<Place extends Screen["at"]> = Extract<Screen, { at: Place }>;

function isAt<Place extends Screen["at"]>(screen: Screen | undefined, at: Place): screen is At<Place> {
  return screen?.at === at;
}

/** Returns a screen by its name, of which is known where it stands. */
export function screenAt<Place extends Screen["at"]>(at: Place, name: string): At<Place> {
  const screen = all.get(name);
  if (!isAt(screen, at)) throw new Error(`there is no ${at} called ${name}: run cargo run -p looks`);
  return screen;
}

/** Where a step of one visit is looked at. */
const steps: Record<Step, string> = {
  find: "1-find",
  make_safe: "2-make-safe",
  as_found: "3-as-found",
  evidence: "4-evidence",
  shift: "5-shift",
  as_left: "6-as-left",
  back_in_service: "7-back-in-service",
  sign: "8-sign",
};

/** Returns the visit as it stands at a step. */
export function visitAt(step: Step): VisitView {
  return screenAt("visit", steps[step]).view;
}

/** Returns a step of that visit. */
export function stepAt(step: Step): StepView {
  return visitAt(step).now;
}
