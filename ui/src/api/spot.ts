// Where an answer stands, as one text: the key of maps and the stem of test ids.
import type { Change, FieldView, Key } from "./types";

export interface Spot {
  key: Key;
  piece: number;
  row: number;
}

export type Answer = Extract<Change, { do: "answer" }>;

/** Returns the stem that names a spot everywhere: `<key>-<piece>-<row>`. */
export function spotName(spot: Spot): string {
  return `${spot.key}-${spot.piece}-${spot.row}`;
}

/** Returns the change that puts a text at a field's spot. */
export function answer(field: FieldView, text: string): Answer {
  return { do: "answer", key: field.key, piece: field.piece, row: field.row, text };
}
