// Where a line may break in what the core says: between "6 ft" and "6 in", never between a number and its unit.
//
// The core writes plain spaces, because its texts are signed, exported and read back; only the screen breaks lines.

const HARD = "\u00a0";

/** A number and the short word, unit or per cent sign that it counts. */
const counted = /([\d/]) (?=[%°]|\p{L}[\p{L}\d/@^]{0,8}(?![\p{L}\d]))/gu;
/** A whole number and its fraction. */
const mixed = /(\d) (?=\d+\/\d)/g;
/** A sign before its number. */
const signed = /([±=<>≤≥]) (?=[-+\u2212]?\d)/g;

/** A hyphen in a date. */
const dated = /(\d{4}-)(\d\d-)(?=\d\d)/g;
const JOINED = "\u2060";

/** Returns a text whose numbers keep to their units. */
export function unbroken(text: string): string {
  const numbers = text.replace(mixed, `$1${HARD}`).replace(counted, `$1${HARD}`).replace(signed, `$1${HARD}`);
  return numbers.replace(dated, `$1${JOINED}$2${JOINED}`);
}
