// The keys of the number pad, by what a field takes. Test ids are `pad-<name>` and stay as they are.
import type { FieldKind } from "../../api/types";

export interface PadKey {
  name: string;
  face: string;
  /** What it puts in. */
  text: string;
  /** What it is called where its face alone would be read out badly. */
  called?: string;
}

const key = (name: string, face: string, text: string, called?: string): PadKey =>
  called === undefined ? { name, face, text } : { name, face, text, called };

export const digits: PadKey[] = ["7", "8", "9", "4", "5", "6", "1", "2", "3", "0"].map((face) =>
  key(face, face, face),
);
export const point: PadKey = key(".", ".", ".", ". decimal point");

/** Unit marks down the left side. */
const lengthMarks: PadKey[] = [
  key("ft", "ft \u2032", "' ", "ft \u2032 feet"),
  key("in", "in \u2033", '"', "in \u2033 inches"),
  key("m", "m", " m", "m metres"),
  key("mm", "mm", " mm", "mm millimetres"),
];
const temperatureMarks: PadKey[] = [
  key("degc", "\u00b0C", " \u00b0C", "\u00b0C degrees Celsius"),
  key("degf", "\u00b0F", " \u00b0F", "\u00b0F degrees Fahrenheit"),
];

export const marks: Record<FieldKind, PadKey[]> = {
  length: lengthMarks,
  temperature: temperatureMarks,
  reading: [],
  current: [],
  number: [],
  text: [],
  choice: [],
};

/** Fractions of an inch; `1/2` is named `half` and so on, so that no test id holds a slash. */
export const fractions: PadKey[] = [
  key("eighth", "1/8", "1/8"),
  key("quarter", "1/4", "1/4"),
  key("three-eighths", "3/8", "3/8"),
  key("half", "1/2", "1/2"),
  key("five-eighths", "5/8", "5/8"),
  key("three-quarters", "3/4", "3/4"),
  key("seven-eighths", "7/8", "7/8"),
];

export const slash: PadKey = key("slash", "/", "/", "/ slash");
export const space: PadKey = key("space", "\u2423", " ", "\u2423 space");
