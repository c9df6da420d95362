// Canned views of slips. The numbers are invented and nothing is worked out.
import type { SlipView } from "../../src/api/types";
import { field, warning } from "./make";

export const slips: SlipView[] = [
  {
    message: {
      ...warning("slip.numbers", "The offset is -13.57 ft."),
      reason: field("warning_reason", "text", { row: 30 }),
    },
    expected: "By the riser and the rest of the evidence it would be -31.31 ft.",
    causes: [
      {
        what: "the offset is in psi",
        why: "-13.57 psi are -31.32 ft",
        tell: "Read the unit beside the offset on the instrument.",
      },
      {
        what: "the transmitter was moved, or the register's riser is not this one",
        why: "another height of riser would fit",
        tell: "Measure the riser; look for a new mounting and its date.",
      },
    ],
    apart:
      "Read the unit beside the offset on the instrument. Measure the riser; look for a new mounting and its date.",
  },
];

export const loopSlips: SlipView[] = [
  {
    message: {
      ...warning("current.differs", "The loop carries 12.00 mA, which means 13 ft 0 in."),
      reason: field("warning_reason", "text", { row: 10 }),
    },
    expected: "For the display's 10.63 ft the register's range wants 10.54 mA.",
    causes: [
      {
        what: "the output is held at a fixed value from a loop test",
        why: "the current stands exactly on a test point",
        tell: "Watch whether it moves with the display; release it with the loop in manual.",
      },
    ],
    apart:
      "Read LRV and URV on the unit first; where they are the register's, the output is to be looked at. An offset trim mends none of these.",
  },
  {
    message: {
      ...warning("slip.numbers", "The numbers of the evidence do not fit each other."),
      reason: field("warning_reason", "text", { row: 30 }),
    },
    expected: "",
    causes: [],
    apart: "Read every number again: unit, sign, mark. More than one may be wrong.",
  },
];
