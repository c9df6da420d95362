// Canned views of a five-point check. The numbers are invented and nothing is worked out.
import type { FivePointView, Key, Message, PointView } from "../../src/api/types";
import { choice, danger, field, optional } from "./make";

export const checkCautions: Message[] = [
  danger(
    "five_point.isolate",
    "Connect a pressure source only to an isolated, vented transmitter.",
    "Shut it off from the tank and vent it slowly, face turned away, in the site's own manifold order; permits and local rules come first.",
  ),
  danger(
    "five_point.over_range",
    "Never over-range it: the sensor reads to 69.20 ft and stands 138.40 ft at most.",
    "Raise the pressure slowly, with the source's relief set below that; release it before you disconnect.",
  ),
  danger(
    "five_point.feeds_loop",
    "What you apply goes out on the loop.",
    "Control still in manual, alarms still inhibited, the control room told, before the first point.",
  ),
];

const found: Key[] = ["check_applied", "check_display", "check_current"];
const left: Key[] = ["check_applied_left", "check_display_left", "check_current_left"];

function point(keys: Key[], row: number, at: string, texts: string[], says: string[]): PointView {
  const unit = ["psi", "ft", "mA"];
  const fields = keys.map((key, place) =>
    field(key, key.startsWith("check_current") ? "current" : "reading", {
      row,
      unit: unit[place] ?? "",
      text: texts[place] ?? "",
      ...optional,
    }),
  );
  const offer = texts[0] ? null : { text: "19.21", label: "19.21 psi" };
  return { row, at, offer, fields, says };
}

const question = choice("pressure_source", ["yes", "no"], undefined, optional);

export const noSource: FivePointView = { fields: [question], points: [], checks: [] };

const rule =
  "Rule (ILAC-G8:09/2019, guard band equal to the expanded uncertainty): within tolerance when no error is more than 0.500 % - 0.152 % = 0.348 % of span; the uncertainty is expanded at 95 %, k = 2.";

const display = {
  by: "display",
  verdict:
    "By the display: worst +0.231 % of span at 50 % up; within tolerance, with room for the uncertainty (± 0.152 % at 95 %; the source is only 3.3 times better than the tolerance).",
  rule,
  lines: [{ what: "zero error", how: "mean error at 0 %", value: "+0.077 %" }],
};

export const fivePoint: FivePointView = {
  fields: [
    choice("pressure_source", ["yes", "no"], "yes", optional),
    field("source_name", "text", { text: "Hand pump with gauge G-7" }),
    field("source_uncertainty", "text", { text: "0.017 psi", echo: "0.151 % of span" }),
    choice("applied_as", ["applied_pressure", "simulated_level"], "applied_pressure"),
    field("source_unit", "choice", {
      text: "psi",
      ...optional,
      options: ["ft", "psi", "kPa", "mbar", "inH2O"].map((value) => ({
        value,
        choice: null,
        label: value,
        chosen: value === "psi",
      })),
    }),
    field("meter_uncertainty", "number", { unit: "mA", ...optional }),
  ],
  points: [
    point(found, 0, "0 % up", ["13.58", "0.02", "4.01"], ["display +0.077 %", "loop current +0.062 %"]),
    point(found, 1, "25 % up", ["16.40", "6.54", ""], ["display +0.154 %"]),
    point(found, 2, "50 % up", ["19.21", "13.06", ""], ["display +0.231 %"]),
    point(found, 3, "75 % up", ["", "", ""], []),
  ],
  checks: [display],
};

export const fivePointLeft: FivePointView = {
  fields: [],
  points: [
    point(left, 0, "0 % up", ["13.58", "0.00", "4.00"], ["display 0.000 %", "loop current 0.000 %"]),
    point(left, 1, "25 % up", ["", "", ""], []),
  ],
  checks: [{ ...display, lines: [] }],
};
