// Recorded frames in the camera's place, on a desktop that stands in for a phone.
import { recordedFrame } from "../api/commands";
import type { Camera, Frame } from "./camera";

/** A camera of some ten frames a second. */
const BETWEEN = 100;

function show(canvas: HTMLCanvasElement, { width, height, base64 }: Frame) {
  canvas.width = width;
  canvas.height = height;
  const paper = canvas.getContext("2d");
  if (!paper) return;
  const pixels = atob(base64);
  const picture = paper.createImageData(width, height);
  for (let at = 0; at < pixels.length; at += 1) picture.data.fill(pixels.charCodeAt(at), at * 4, at * 4 + 3);
  for (let at = 3; at < picture.data.length; at += 4) picture.data[at] = 255;
  paper.putImageData(picture, 0, 0);
}

export function recordedCamera(): Camera {
  const canvas = document.createElement("canvas");
  let at = 0;
  return {
    picture: canvas,
    torch: null,
    frame: async () => {
      await new Promise((resolve) => setTimeout(resolve, BETWEEN));
      const frame = await recordedFrame(at);
      at += 1;
      if (frame) show(canvas, frame);
      return frame;
    },
    stop: () => undefined,
  };
}
