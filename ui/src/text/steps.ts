// The eight steps: their names, and the one line that says what each is for; Shift says it by its numbers.
import type { Step } from "../api/types";

export const steps: Record<Step, string> = {
  find: "Find",
  make_safe: "Make safe",
  as_found: "As found",
  evidence: "Evidence",
  shift: "Shift",
  as_left: "As left",
  back_in_service: "Back in service",
  sign: "Sign",
};

export const stepAims: Record<Step, string> = {
  find: "Is this the instrument? Read the plate.",
  make_safe: "Before anything is touched.",
  as_found: "What it shows, untouched.",
  evidence: "What the level is, by something other than this instrument.",
  shift: "",
  as_left: "What it shows now.",
  back_in_service: "Everything back as it was.",
  sign: "Read it over. A signed record stays as it is.",
};

/** Returns the name of a step given by its word, or the word itself for one this table does not know. */
export function stepName(word: string): string {
  return new Map(Object.entries(steps)).get(word) ?? word;
}
