// Pixels on their way to the core: gray, small, and as text.
import type { Frame } from "./camera";

/** A part of this many bytes is turned to text at a time: a call takes only so many arguments. */
const PART = 8190;

/** Returns the brightness of each pixel: red, green and blue as the eye weighs them (ITU-R BT.601). */
function gray(pixels: Uint8ClampedArray): Uint8Array {
  const made = new Uint8Array(pixels.length / 4);
  for (let at = 0; at < made.length; at += 1) {
    const from = at * 4;
    const [red = 0, green = 0, blue = 0] = [pixels[from], pixels[from + 1], pixels[from + 2]];
    made[at] = (red * 77 + green * 150 + blue * 29) >> 8;
  }
  return made;
}

function base64(bytes: Uint8Array): string {
  let text = "";
  for (let at = 0; at < bytes.length; at += PART) {
    text += String.fromCharCode(...bytes.subarray(at, at + PART));
  }
  return btoa(text);
}

/** Returns a picture as the core takes a frame. */
export function frameOf({ data, width, height }: ImageData): Frame {
  return { width, height, base64: base64(gray(data)) };
}
