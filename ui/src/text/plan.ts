// The words of the plan and of what is left after the trim.
import type { PlanWay } from "../api/types";

export const planWords = {
  open: "Plan this instrument",
  title: "Plan",
  back: "Back to the instrument",
  before: "Worked out from the register, before anybody goes there.",

  head: "Standing head",
  atZero: "The sensor feels at 0 %",
  atFull: "The sensor feels at 100 %",
  perLevel: "The liquid presses",
  highest: "Highest working pressure",
  unit: "Display unit",

  ranges: "Two ways to range it",
  wanted: "as the register wants it",
  notWanted: "the other way",
  lrv: "LRV",
  urv: "URV",
  offset: "Total offset",
  rangeCaption: "What everyone sees over the span",
  level: "Level",
  display: "Display",
  current: "Current, mA",
  controlRoom: "Control room",

  sensors: "Which sensor fits",
  sensorsNone: "The register lists no other sensors.",
  fits: "Fits",
  doesNotFit: "Does not fit",
  expected: "Expected error",
  madeOf: "What that is made of",
  room: "Room",

  left: "What is left over the span",
  leftCaption: "Error over the span, as level",
  today: "Today",
  coldest: "Coldest",
  warmest: "Warmest",
  corrected: "LRV and URV that would leave less",

  moves: "What moves the reading",
  movesCaption: "What a step of each input moves, as level",
  input: "Input",
  movesZero: "At 0 %",
  movesFull: "At 100 %",

  assumed: "Assumed",
} satisfies Record<string, string>;

export const planWays: Record<PlanWay, string> = {
  trimmed: "Trimmed: the offset takes the standing head out",
  raw: "Raw: the range takes the standing head out",
};
