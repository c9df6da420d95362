// The words over a field: the register's own where it is data, otherwise the text table's.
import type { FieldView, Key, OptionView } from "../../api/types";
import { choices } from "../../text/choices";
import { keys } from "../../text/keys";
import { unbroken } from "../../text/unbroken";

/** Questions asked again and again, whose label therefore counts. */
const counted: ReadonlySet<Key> = new Set<Key>([
  "dip",
  "dip_set_aside",
  "check_applied",
  "check_display",
  "check_current",
  "check_applied_left",
  "check_display_left",
  "check_current_left",
]);

/** Returns what a question is called over its field, and wherever it is spoken of. */
export function labelOf(field: Pick<FieldView, "key" | "row" | "label">): string {
  if (field.label) return field.label;
  const { label } = keys[field.key];
  return counted.has(field.key) ? `${label}, ${field.row + 1}` : label;
}

/** Returns what an option is called: the text table's word for a choice, the register's for data. */
export function optionLabel(option: OptionView): string {
  return option.choice ? choices[option.choice] : unbroken(option.label);
}
