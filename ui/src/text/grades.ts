// The word that goes with a message's look, so that colour never speaks alone.
import type { Grade } from "../api/types";

export const grades: Record<Grade, string> = {
  note: "Note",
  warning: "Warning",
  refusal: "Cannot go on",
  danger: "Danger",
};
