// Canned views of the eight steps.
import type { Step, StepState, StepView, VisitView } from "../../src/api/types";
import { checkCautions, fivePoint, fivePointLeft, noSource } from "./five_point";
import { choice, danger, field, note, optional, refusal, warning } from "./make";
import { history } from "./history";
import { left } from "./plan";
import { review } from "./record";
import { drawing, measureNext, moving, shift, undetermined, verdict } from "./shift";
import { loopSlips, slips } from "./slips";

function step(name: Step, more: Partial<StepView>): StepView {
  const empty = {
    cautions: [],
    fields: [],
    pieces: [],
    offers: [],
    levels: [],
    review: [],
    slips: [],
    messages: [],
  };
  const none = {
    sketch: null,
    shift: null,
    left: null,
    measure_next: null,
    verdict: null,
    five_point: null,
    together: null,
    history: null,
  };
  return { step: name, ...empty, ...none, next: { to: null, ready: true, missing: [] }, ...more };
}

const ready = (to: Step) => ({ to, ready: true, missing: [] });
const items = [
  "Pump 2 in hand; tell Dunmore works before it stops",
  "Loop and pump control in manual",
  "Height: nobody climbs alone",
  "Working alone: someone knows where you are",
];

const find = step("find", {
  fields: [
    choice("tag_matches", ["yes", "no"]),
    field("serial_read", "text", {
      text: "MDW-40171",
      problem: {
        ...warning(
          "plate.serial_differs",
          "The register has MDW-40117 for this tag.",
          "If a different unit is fitted, go on and say so.",
        ),
        reason: field("warning_reason", "text", { row: 1 }),
      },
      options: [{ value: "MDW-40117", choice: null, label: "MDW-40117, as in the register", chosen: false }],
    }),
    choice("range_matches", ["yes", "no", "not_legible"]),
  ],
  together: {
    leads_to: null,
    lines: [
      { answer: { key: "tag_matches", row: 0, text: "yes" }, label: "", choice: "yes" },
      { answer: { key: "range_matches", row: 0, text: "yes" }, label: "", choice: "yes" },
    ],
  },
  next: {
    to: "make_safe",
    ready: false,
    missing: [refusal("missing.range", "Say whether the range on the plate agrees.")],
  },
});

const makeSafe = step("make_safe", {
  cautions: [
    danger(
      "safe.local_rules",
      "Local rules, permits and licensed practice come first. This list does not replace them.",
    ),
    danger(
      "hazard.pit",
      "The instrument stands in a pit: a confined space.",
      "Enter only under the site's confined-space procedure.",
    ),
  ],
  fields: [
    choice("safety_item", ["done", "does_not_apply"], "done", { label: items[0] ?? "", row: 0 }),
    choice("safety_item", ["done", "does_not_apply"], "does_not_apply", { label: items[1] ?? "", row: 1 }),
    field("safety_reason", "text", { row: 1, text: "" }),
    ...[2, 3].map((row) =>
      choice("safety_item", ["done", "does_not_apply"], undefined, { label: items[row] ?? "", row }),
    ),
    field("control_room_told", "text", { text: "Ferris, Dunmore works" }),
    field("inhibit_minutes", "number", { unit: "min", text: "90", echo: "until 12:05", ...optional }),
  ],
  together: {
    leads_to: "as_found",
    lines: [2, 3].map((row) => ({
      answer: { key: "safety_item", row, text: "done" },
      label: items[row] ?? "",
      choice: "done",
    })),
  },
  next: ready("as_found"),
});

const asFound = step("as_found", {
  fields: [
    field("display", "reading", { unit: "ft", text: "41.92", echo: "12.777 m of this water" }),
    field("loop_current", "current", { unit: "mA", text: "20.5", echo: "26.81 ft", ...optional }),
    field("control_room", "length", {
      text: "26,8",
      ...optional,
      problem: refusal("length.comma", '"26,8" could be 26.8 or 268.'),
      which: [
        { text: "26.8 ft", label: "26.8 ft (8.169 m)" },
        { text: "26.8 m", label: "26.8 m (87.93 ft)" },
      ],
    }),
    choice(
      "offset_known",
      ["offset_read_today", "offset_cleared_today", "offset_from_record", "offset_unknown"],
      "offset_read_today",
    ),
    field("offset_value", "reading", { unit: "ft", text: "0.00" }),
    choice(
      "standing_head_at",
      [
        "head_in_offset",
        "head_in_range",
        "head_in_control_room",
        "head_nowhere",
        "head_twice",
        "head_not_settled",
      ],
      "head_nowhere",
    ),
    choice("line_bled", ["bled_clear", "bled_not_possible"], "bled_clear"),
    field("liquid_temperature", "temperature", { text: "12 °C", echo: "53.6 °F", ...optional }),
  ],
  levels: [
    { who: "display", read: "41.92 ft", level: "41.92 ft", says: "" },
    {
      who: "current",
      read: "20.5 mA",
      level: "26.81 ft",
      says: "Held at the top of the measuring band (NE 43)",
    },
    { who: "control_room", read: "", level: "", says: "" },
  ],
  messages: [
    note("head.suggestion", "By the numbers: standing head taken out nowhere."),
    warning(
      "head.nowhere",
      "Nothing takes the standing head out: the display shows the riser too.",
      "Settle this before any shift.",
    ),
  ],
  five_point: noSource,
  next: ready("evidence"),
});

/** With a pressure source at hand: the check stands in the step, its cautions on top. */
export const asFoundChecked = step("as_found", {
  ...asFound,
  cautions: checkCautions,
  five_point: fivePoint,
});

const dip = (row: number, text: string, echo: string) =>
  field("dip", "length", { piece: 1, row, text, echo, required: row === 0 });

const evidence = step("evidence", {
  pieces: [
    {
      id: 1,
      kind: "dip",
      timing: "before",
      says: "Level 10 ft 7 1/2 in ± 0.02 ft from 2 dips",
      messages: [note("dips.more", "Two dips agree within 1/8 in. A third would make it surer.")],
      fields: [
        field("reading_before", "reading", { piece: 1, unit: "ft", text: "41.91", ...optional }),
        dip(0, "10' 7 1/2\"", "3.239 m"),
        field("dip_set_aside", "text", { piece: 1, row: 0, ...optional }),
        dip(1, "10' 7 5/8\"", "3.242 m"),
        dip(2, "", ""),
        field("reading_after", "reading", { piece: 1, unit: "ft", ...optional }),
        field("tape_used", "text", {
          piece: 1,
          text: "T-14",
          ...optional,
          options: [
            { value: "T-14", choice: null, label: "T-14, check due 2026-10-01", chosen: true },
            { value: "T-22", choice: null, label: "T-22, check due 2027-03-31", chosen: false },
          ],
        }),
        field("tape_temperature", "temperature", { piece: 1, ...optional }),
        field("tape_sideways", "length", { piece: 1, ...optional }),
      ],
    },
  ],
  offers: [
    { kind: "known_empty", timing: "before", not_here: "" },
    { kind: "drop", timing: "before", not_here: "the register gives no hatch mark." },
    { kind: "overflow", timing: "before", not_here: "" },
    { kind: "other_instrument", timing: "before", not_here: "" },
    { kind: "riser", timing: "before", not_here: "" },
    { kind: "vented", timing: "before", not_here: "" },
  ],
  fields: [choice("crew", ["alone", "two_or_more"], undefined, optional)],
  measure_next: measureNext,
  sketch: drawing,
  next: ready("shift"),
});

const decide = choice("decision", ["trim", "leave"]);

const asLeft = step("as_left", {
  fields: [
    choice("trim_result", ["trim_took", "put_back"], "trim_took"),
    field("display_left", "reading", { unit: "ft", text: "10.64", echo: "10 ft 7 11/16 in, 3.243 m" }),
    field("current_left", "current", { unit: "mA", ...optional }),
  ],
  levels: [
    { who: "display", read: "10.64 ft", level: "10.64 ft", says: "" },
    { who: "current", read: "10.55 mA", level: "10.64 ft", says: "" },
    { who: "control_room", read: "10.6 ft", level: "10.60 ft", says: "" },
  ],
  shift: { ...shift, warnings: [] },
  left,
  verdict,
  offers: [{ kind: "dip", timing: "after", not_here: "" }],
  sketch: drawing,
  next: ready("back_in_service"),
});

export const asLeftChecked = step("as_left", {
  ...asLeft,
  cautions: checkCautions,
  five_point: fivePointLeft,
});

const back = [
  "Valves back as they were; drains and vents closed; no leak",
  "Loop and pump control back in automatic",
];

const backInService = step("back_in_service", {
  fields: [
    ...back.map((label, row) =>
      choice("back_item", ["done", "not_done"], row === 0 ? "done" : "not_done", { label, row }),
    ),
    field("back_reason", "text", { row: 1, text: "Ferris keeps it in manual until the tower is full" }),
  ],
  next: ready("sign"),
});

const sign = step("sign", {
  history,
  verdict,
  review,
  fields: [field("note", "text", optional)],
  next: { to: null, ready: true, missing: [] },
});

export const stepViews: Record<Step, StepView> = {
  find,
  make_safe: makeSafe,
  as_found: asFound,
  evidence,
  shift: step("shift", {
    fields: [decide],
    shift,
    left,
    measure_next: {
      ...measureNext,
      enough: true,
      proposals: [],
      says: "Good enough, stop: ± 0.31 in is under a third of the tolerance of 1.2 in.",
    },
    sketch: drawing,
    next: { to: "as_left", ready: false, missing: [refusal("missing.decision", "Decide whether to trim.")] },
  }),
  as_left: asLeft,
  back_in_service: backInService,
  sign,
};

export const shiftMoving = step("shift", {
  fields: [decide],
  shift: moving,
  measure_next: measureNext,
  sketch: drawing,
  next: ready("as_left"),
});

/** A slip beside the shift, and two beside what was found. */
export const shiftSlipped = step("shift", { fields: [decide], shift, slips, sketch: drawing });
export const asFoundSlipped = step("as_found", { ...asFound, slips: loopSlips });

export const shiftOpen = step("shift", {
  fields: [decide],
  shift: undetermined,
  next: { to: "as_left", ready: false, missing: [refusal("missing.decision", "Decide whether to trim.")] },
});

const order: Step[] = [
  "find",
  "make_safe",
  "as_found",
  "evidence",
  "shift",
  "as_left",
  "back_in_service",
  "sign",
];

/** Returns the visit with a step on the screen; the steps before it are complete. */
export function visitAt(name: Step, now: StepView = stepViews[name]): VisitView {
  const at = order.indexOf(name);
  const steps: StepState[] = order.map((one, place) => ({
    step: one,
    complete: place < at,
    open: place <= at,
  }));
  const reminder =
    at > 1 && at < 7 ? { text: "Alarms inhibited until 12:05: 41 minutes left.", minutes_left: 41 } : null;
  return {
    id: "d1",
    tag: "SH-LT-101",
    service: "Tower level",
    site: "Sedge Hill",
    steps,
    now,
    saved: "Saved 10:42:07",
    reminder,
  };
}
