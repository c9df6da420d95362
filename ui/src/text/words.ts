// Buttons, headings and sentences of the screens themselves. What the core says comes from the core.

export const words = {
  app: "Headmark",
  home: "Home",
  close: "Close",
  cancel: "Cancel",
  tryAgain: "Try again",
  optional: "optional",

  themeToDark: "Dark screen",
  themeToSun: "Sun screen",

  nameTitle: "Who works with this phone?",
  nameLabel: "Your name, as it stands on your records",
  nameSave: "Keep this name",
  nameChange: "Change name",
  nameNow: "Technician",

  begin: "Begin a visit",
  beginAnother: "Begin another visit",
  proceed: "Continue",
  openVisits: "Visits left open",
  stoppedAt: "Stopped at",
  discard: "Give up this visit",
  discardAsk: "Give up this visit?",
  discardWhat: "What was typed in it is deleted. Nothing of it is kept as a record.",
  discardKeep: "Keep it",
  records: "Signed records",
  noRecords: "None on this phone yet.",
  register: "Register",
  noRegister: "No register on this phone yet. Load one to find instruments.",
  registerLoad: "Load a register file",
  instruments: "instruments",

  findTitle: "Which instrument?",
  ladder: "Never on a ladder. Stand somewhere safe first.",
  photo: "Photograph the tag code",
  photoFile: "Use a photo taken before",
  typeTag: "Or type the tag",
  typeHelp: "Part of it is enough. Dashes and spaces do not matter.",
  pick: "Instruments",
  noHits: "Nothing in the register is like that.",
  serial: "Serial",
  codeRead: "Code read",
  exact: "Exactly this tag",
  reading: "Reading the file",

  findOther: "Another instrument",
  confirmBegin: "Begin the visit",
  confirmPlate: "The nameplate should say",
  confirmOpen: "A visit to this instrument was left open.",
  confirmBefore: "Earlier records",

  stepsLabel: "Steps",
  stepDone: "complete",
  stepNow: "on the screen",
  stepLater: "not yet",
  next: "Next",
  missing: "Still missing",
  sign: "Sign the record",
  saving: "Saving",
  notSaved: "Not saved",
  notSavedWhat: "What you typed stays on the screen.",
  whichOne: "Which did you mean?",
  clearChoice: "Clear",

  padOpen: "Number pad",
  padDone: "Done",
  padNext: "Next number",

  addEvidence: "Add evidence",
  addProof: "Add a check after the trim",
  remove: "Take away",
  removeAsk: "Take this evidence away?",
  removeWhat: "What was typed for it is deleted.",

  levelsTitle: "Three levels side by side",
  levelsSkipped: "not read",
  levelsUnknown: "no level",

  drawingWords: "The drawing in words",

  from: "Display now",
  fromBefore: "Display before the trim",
  to: "Trim to",
  toBe: "Display to be",
  by: "Change",
  sure: "How sure",
  total: "New total offset",
  totalUnknown: "not shown: the offset carried is unknown",
  level: "Level by the evidence",
  unit: "Display unit",
  rule: "Trim rule",
  adjustNote: "How this unit is adjusted",
  waysOut: "Ways out, best first",
  assumptions: "Assumed",
  working: "Working, line by line",
  references: "Each reference alone",
  budget: "Where the uncertainty comes from",
  budgetShare: "of the variance",
  budgetStandard: "standard uncertainty",
  budgetDistribution: "distribution",
  budgetContribution: "in the shift",
  budgetFreedom: "degrees of freedom",
  refUncertainty: "uncertainty",
  refNone: "none alone",

  verdict: "Verdict",
  asFound: "Error as found",
  asLeft: "Error as left",
  uncertainty: "Uncertainty",
  tolerance: "Tolerance",
  decisionRule: "Decision rule",

  recordTitle: "Signed record",
  signedBy: "Signed by",
  proof: "Signature",
  whereabouts: "Where it is",
  exportRecord: "Export the record",
  exported: "Written to this file:",

  registerTitle: "Register",
  registerRows: "Rows left out",
  registerRow: "Row",
  registerField: "field",
  registerFile: "the file",

  errorTitle: "That did not work",
  unexpected: "Something went wrong inside the app.",
  unexpectedRemedy:
    "Try again. If it happens again, close the app and open it: what was saved is still there.",
  fileUnread: "The file could not be read.",
  fileUnreadRemedy: "Choose it again, or choose another.",
} satisfies Record<string, string>;

/** Who shows a level; the core's words for them. */
const levelOwners: ReadonlyMap<string, string> = new Map([
  ["display", "Display"],
  ["current", "Current"],
  ["control_room", "Control room"],
]);

/** Returns the name of whoever shows a level, or the core's own word for one this table does not know. */
export function levelOwner(who: string): string {
  return levelOwners.get(who) ?? who;
}
