// Small makers of view values.
import type { Choice, FieldKind, FieldView, Grade, Key, Message } from "../../src/api/types";

function message(grade: Grade, code: string, text: string, remedy = ""): Message {
  return { code, grade, text, remedy, reason: null };
}

export const note = (code: string, text: string, remedy?: string) => message("note", code, text, remedy);
export const warning = (code: string, text: string, remedy?: string) =>
  message("warning", code, text, remedy);
export const refusal = (code: string, text: string, remedy?: string) =>
  message("refusal", code, text, remedy);
export const danger = (code: string, text: string, remedy?: string) => message("danger", code, text, remedy);

export function field(key: Key, kind: FieldKind, more: Partial<FieldView> = {}): FieldView {
  const nothing = { piece: 0, row: 0, label: "", unit: "", text: "", echo: "", problem: null };
  return { key, kind, ...nothing, which: [], options: [], required: true, ...more };
}

export function choice(key: Key, of: Choice[], chosen?: Choice, more: Partial<FieldView> = {}): FieldView {
  const options = of.map((one) => ({ value: one, choice: one, label: "", chosen: one === chosen }));
  return field(key, "choice", { options, text: chosen ?? "", ...more });
}

export const optional = { required: false };
