// Takes a person to the field of a question.
import { type Spot, spotName } from "../../api/spot";

/** Moves the page to a question's field and puts the focus there. What is folded around it opens. */
export function toQuestion(spot: Spot): void {
  const field = document.getElementById(`field-${spotName(spot)}`);
  if (!field) return;
  for (let at = field.closest("details"); at; at = at.parentElement?.closest("details") ?? null)
    at.open = true;
  const input = field instanceof HTMLFieldSetElement ? field.querySelector("input") : field;
  input?.focus({ preventScroll: true });
  field.scrollIntoView({ block: "center" });
}
