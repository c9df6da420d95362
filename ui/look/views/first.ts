// Canned views of the screens before a visit. All of it is invented.
import type {
  DraftLine,
  Hit,
  HomeView,
  InstrumentView,
  RegisterReport,
  SignedLine,
} from "../../src/api/types";
import { history } from "./history";
import { danger, note, warning } from "./make";

const draft: DraftLine = {
  id: "d1",
  tag: "SH-LT-101",
  service: "Tower level",
  site: "Sedge Hill",
  step: "evidence",
  when: "today 10:41",
};

const earlier: SignedLine[] = [
  {
    id: "r2",
    tag: "CA-LT-201",
    service: "Tower level",
    site: "Cold Ash",
    when: "12 Nov 2026 14:07",
    verdict: "Within tolerance as found; not adjusted",
  },
  {
    id: "r1",
    tag: "SH-LT-101",
    service: "Tower level",
    site: "Sedge Hill",
    when: "18 May 2026 09:33",
    verdict: "Trimmed, not independently proved",
  },
];

export const home: HomeView = {
  technician: "Asha Rowe",
  status: "2 records on this phone, none sent yet",
  drafts: [draft],
  signed: earlier,
  instruments: 5,
  register: "Marrowby District Water, 1 Nov 2026",
  messages: [],
};

export const homeEmpty: HomeView = {
  technician: "Asha Rowe",
  status: "Nothing on this phone yet",
  drafts: [],
  signed: [],
  instruments: 0,
  register: "",
  messages: [
    warning(
      "store.salvaged",
      "The data file was damaged when the phone lost power. Everything signed was found again.",
      "Check the visit that was open last.",
    ),
  ],
};

export const hits: Hit[] = [
  { tag: "SH-LT-101", service: "Tower level", site: "Sedge Hill", serial: "MDW-40117", exact: true },
  { tag: "CA-LT-201", service: "Tower level", site: "Cold Ash", serial: "MDW-40233", exact: false },
  {
    tag: "TL-LT-310",
    service: "Wash-water tank level",
    site: "Tarn Lane",
    serial: "MDW-38802",
    exact: false,
  },
];

export const instrument: InstrumentView = {
  tag: "SH-LT-101",
  service: "Tower level",
  site: "Sedge Hill",
  hazards: [
    danger(
      "hazard.pit",
      "The instrument stands in a pit: a confined space.",
      "Enter only under the site's confined-space procedure.",
    ),
    danger("hazard.permit", "Permit needed: PTW-2 cold work.", "Have it in hand before you begin."),
    note("hazard.liquid", "Liquid: water. A phone may be used here."),
    warning("hazard.ladder", "Never use the phone on a ladder.", "Stand somewhere safe first."),
  ],
  plate: [
    { what: "Tag", value: "SH-LT-101" },
    { what: "Serial", value: "MDW-40117" },
    { what: "LRV to URV", value: "0 to 26 ft" },
    { what: "Sensor limits", value: "0 to 50 psi" },
    { what: "Riser by the register", value: "31 ft 4 in (9.550 m), tape" },
    { what: "Offset on record", value: "-31.28 ft, 18 May 2026" },
  ],
  draft: null,
  signed: earlier.slice(1),
  history,
  refusal: null,
};

export const instrumentRefused: InstrumentView = {
  ...instrument,
  tag: "TL-LT-330",
  service: "Boiler drum level",
  site: "Tarn Lane",
  refusal: {
    code: "refused.safety_function",
    grade: "refusal",
    text: "This loop trips or protects something. It has a procedure of its own and is not trimmed from here.",
    remedy: "Follow the site's procedure for safety functions.",
    reason: null,
  },
  signed: [],
  history: null,
};

export const register: RegisterReport = {
  loaded: 5,
  text: "5 instruments taken in, 2 rows left out.",
  problems: [
    {
      row: 4,
      tag: "TL-LT-310",
      field: "riser",
      text: '"6,5" could be 6.5 or 65. Write it with a unit and a point, such as 6.5 m.',
    },
    { row: 7, tag: "", field: "tag", text: "The tag is empty. Give every instrument its tag." },
  ],
};
