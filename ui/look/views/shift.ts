// Canned views of a shift, a verdict and a drawing. The numbers are invented and nothing is worked out.
import type { Drawing, MeasureNextView, TargetView, ShiftView, VerdictView } from "../../src/api/types";
import { field, note, warning } from "./make";

export const shift: ShiftView = {
  state: "trim",
  unit: "ft of this water (12 °C)",
  from: "41.92 ft",
  to: "10.63 ft",
  by: "-31.29 ft",
  sure: "± 0.04 ft (95 %)",
  total: "-31.29 ft",
  level: "10 ft 7 1/2 in (3.239 m)",
  headline: "Trim the display from 41.92 ft to 10.63 ft.",
  rule: "True at the reference: the display shows the measured level",
  working: [
    { what: "Level by the dip", how: "mean of 3 dips + floor 0 ft", value: "10.63 ft" },
    { what: "Display, mean of before and after", how: "(41.91 + 41.93) / 2", value: "41.92 ft" },
    { what: "Shift", how: "s = 10.63 - 41.92", value: "-31.29 ft" },
  ],
  assumptions: [note("assumed.temperature", "The water is at 12 °C, the register's value for November.")],
  warnings: [
    {
      ...warning(
        "tape.overdue",
        "The check of tape T-14 was due on 1 October 2026.",
        "Its uncertainty is doubled. Use another tape if you can.",
      ),
      reason: field("warning_reason", "text", { row: 4 }),
    },
  ],
  moving: false,
  ways_out: [],
  references: [
    { what: "Dip from the floor", shift: "-31.29 ft", uncertainty: "± 0.04 ft", says: "Decides" },
    { what: "Measured riser", shift: "-31.33 ft", uncertainty: "± 0.11 ft", says: "Agrees, En 0.4" },
  ],
  budget: [
    {
      what: "Dip, 3 repeats",
      value: "10.63 ft",
      standard: "0.012 ft",
      distribution: "normal, 1",
      sensitivity: "+9793 Pa/m",
      contribution: "0.012 ft",
      freedom: "2",
      share: 57.4,
    },
    {
      what: "Display resolution",
      value: "0.01 ft",
      standard: "0.0029 ft",
      distribution: "rectangular, 1.73",
      sensitivity: "-1.000 Pa/Pa",
      contribution: "0.003 ft",
      freedom: "infinite",
      share: 8.1,
    },
  ],
  adjust_note:
    "Two people: one reads, one sets. Set the display to the level, then wait five minutes and read again.",
};

export const undetermined: ShiftView = {
  ...shift,
  state: "not_determined",
  from: "41.92 ft",
  to: "",
  by: "",
  sure: "",
  total: "",
  level: "",
  headline: "A riser height alone gives no shift while the offset the unit carries is unknown.",
  warnings: [],
  working: [],
  references: [],
  budget: [],
  ways_out: [
    { label: "Read the offset on the unit", change: { do: "go", step: "as_found" } },
    { label: "Bring a level: dip or drop", change: { do: "add", kind: "dip", timing: "before" } },
    { label: "Make a vented check", change: { do: "add", kind: "vented", timing: "before" } },
    { label: "Clear the offset, last of all, and note the old one", change: { do: "go", step: "as_found" } },
  ],
};

export const verdict: VerdictView = {
  code: "not_proved",
  short: "Trimmed, not independently proved",
  detail:
    "The display agrees with the reference it was trimmed to, as it must. Take a second dip or another level to prove it.",
  text: "Trimmed, not independently proved: the display agrees with the reference it was trimmed to, as it must. Take a second dip or another level to prove it.",
  as_found: "+31.29 ft, 120.3 % of span",
  as_left: "+0.01 ft, 0.04 % of span",
  uncertainty: "± 0.05 ft (95 %)",
  tolerance: "± 0.13 ft (0.5 % of span)",
  rule: "Accepted when the error and its uncertainty together stay inside the tolerance",
};

export const drawing: Drawing = {
  width: 360,
  height: 430,
  description:
    "Section to scale: the transmitter stands 31 ft 4 in below the tank's zero. From top to bottom: 100 % 26 ft; hatch 27 ft 2 in; level 10 ft 7 1/2 in; 0 % tank zero.",
  shapes: [
    { shape: "line", role: "ground", x1: 8, y1: 410, x2: 192, y2: 410 },
    { shape: "rect", role: "liquid", x: 64, y: 117, w: 120, h: 70 },
    { shape: "rect", role: "liquid", x: 117, y: 187, w: 14, h: 207 },
    { shape: "rect", role: "wall", x: 117, y: 187, w: 14, h: 207 },
    { shape: "rect", role: "wall", x: 64, y: 16, w: 120, h: 171 },
    { shape: "line", role: "dimension", x1: 40, y1: 187, x2: 40, y2: 394 },
    { shape: "line", role: "dimension", x1: 35, y1: 187, x2: 45, y2: 187 },
    { shape: "line", role: "dimension", x1: 35, y1: 394, x2: 45, y2: 394 },
    { shape: "text", role: "dimension", x: 48, y: 295, anchor: "start", text: "riser 31 ft 4 in" },
    { shape: "line", role: "wall", x1: 131, y1: 394, x2: 162, y2: 394 },
    { shape: "rect", role: "transmitter", x: 162, y: 383, w: 22, h: 22 },
    { shape: "line", role: "datum", x1: 34, y1: 16, x2: 184, y2: 16 },
    { shape: "line", role: "surface", x1: 64, y1: 117, x2: 184, y2: 117 },
    { shape: "line", role: "datum", x1: 34, y1: 187, x2: 184, y2: 187 },
    { shape: "line", role: "datum", x1: 184, y1: 16, x2: 200, y2: 16 },
    { shape: "text", role: "label", x: 204, y: 21, anchor: "start", text: "100 % 26 ft" },
    { shape: "line", role: "surface", x1: 184, y1: 117, x2: 200, y2: 117 },
    { shape: "text", role: "label", x: 204, y: 122, anchor: "start", text: "level 10 ft 7 1/2 in" },
    { shape: "line", role: "datum", x1: 184, y1: 187, x2: 200, y2: 187 },
    { shape: "text", role: "label", x: 204, y: 192, anchor: "start", text: "0 % tank zero" },
    { shape: "line", role: "transmitter", x1: 184, y1: 394, x2: 200, y2: 394 },
    { shape: "text", role: "label", x: 204, y: 399, anchor: "start", text: "transmitter" },
  ],
};

export const moving: ShiftView = { ...shift, moving: true };

export const target: TargetView = {
  at: "10:42:30",
  from: "41.97 ft",
  to: "10.68 ft",
  by: "-31.29 ft",
  sure: "± 0.06 ft (95 %)",
  a_minute: "+0.03 ft",
};

export const measureNext: MeasureNextView = {
  enough: false,
  says: "± 0.52 in against a tolerance of 1.2 in. Most for the effort comes first.",
  proposals: [
    {
      what: "Measure the liquid's temperature",
      gain: "± 0.52 in now, ± 0.46 in then",
      effort: "about 3 min",
      says: "",
      change: { do: "go", step: "as_found" },
    },
    {
      what: "Drop three times from the hatch with T-22",
      gain: "± 0.52 in now, ± 0.33 in then",
      effort: "about 15 min",
      says: "Only under the site's rules and permit for work at height.",
      change: { do: "add", kind: "drop", timing: "before" },
    },
  ],
};
