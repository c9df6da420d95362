// Canned views of a visit to read over, and of a signed record.
import type { RecordView, ReviewPart } from "../../src/api/types";
import { history } from "./history";
import { note } from "./make";
import { shift, verdict } from "./shift";

export const review: ReviewPart[] = [
  {
    title: "Find",
    lines: [
      { what: "Found", value: "By its tag code", echo: "" },
      { what: "Serial number", value: "MDW-40117", echo: "as in the register" },
      { what: "Range on the plate", value: "Yes", echo: "" },
    ],
  },
  {
    title: "As found",
    lines: [
      { what: "Display", value: "41.92 ft", echo: "12.777 m" },
      { what: "Loop current", value: "20.5 mA", echo: "outside the measuring band (NE 43)" },
      { what: "Standing head taken out", value: "Nowhere: it shows the riser too", echo: "" },
    ],
  },
  {
    title: "Evidence",
    lines: [{ what: "Dip 1", value: "10' 7 1/2\"", echo: "3.239 m" }],
  },
];

export const signed: RecordView = {
  id: "r3",
  tag: "SH-LT-101",
  service: "Tower level",
  site: "Sedge Hill",
  when: "20 Nov 2026 11:02",
  technician: "Asha Rowe",
  shift: [
    { what: "From", value: "41.92 ft", echo: "" },
    { what: "To", value: "10.63 ft", echo: "" },
    { what: "By", value: "-31.29 ft", echo: "" },
    { what: "How sure", value: "± 0.04 ft (95 %)", echo: "" },
  ],
  verdict,
  parts: review,
  history,
  working: shift.working,
  assumptions: shift.assumptions,
  warnings: [note("warning.tape", "The check of tape T-14 was overdue. Reason given: only tape on the van.")],
  proof: "Signature checked",
  whereabouts: "On this phone, not sent yet",
};
