// The camera, whatever gives it: the device's own, or what stands in for it on a desktop.
import * as commands from "../api/commands";
import { deviceCamera } from "./deviceCamera";
import { recordedCamera } from "./recordedCamera";

/** A frame in shades of gray, a byte a pixel, row by row, as base64. */
export interface Frame {
  width: number;
  height: number;
  base64: string;
}

/** A lamp beside the camera. */
export interface Torch {
  turn(on: boolean): Promise<void>;
}

export interface Camera {
  /** What shows its picture; it belongs to the camera and goes with it. */
  readonly picture: HTMLElement;
  /** None where there is no lamp that can be turned on. */
  readonly torch: Torch | null;
  /** Returns what it sees inside the guide; none while there is nothing yet. */
  frame(): Promise<Frame | null>;
  /** Ends the use of the camera. */
  stop(): void;
}

/** Why there is no picture. */
export type NoCamera = "refused" | "absent" | "busy";

export type Opened = { camera: Camera } | { none: NoCamera };

/** Opens the camera that looks away from the person, unless it is no longer wanted before it is open. */
export async function openCamera(unwanted: AbortSignal): Promise<Opened> {
  const { source, side } = await commands.camera();
  switch (source) {
    case "recorded":
      return { camera: recordedCamera() };
    case "refused":
      return { none: "refused" };
    case "device":
      return deviceCamera(side, unwanted);
  }
}
