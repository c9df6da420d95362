// Words of finding an instrument.
import type { Message } from "../api/types";
import type { NoCamera } from "../ports/camera";

export const findWords = {
  hold: "Hold the label inside the frame",
  opening: "Opening the camera",
  again: "Look through the camera again",
  torchOn: "Light on",
  torchOff: "Light off",
  slow: "No code yet. Try another way:",
  offerType: "Type the tag",
  longer: "Look longer at this photo",
  lookingLonger: "Looking longer",
} satisfies Record<string, string>;

const told: Record<NoCamera, Omit<Message, "code" | "reason">> = {
  refused: {
    grade: "warning",
    text: "This app may not use the camera.",
    remedy:
      "Photograph the label or type its tag instead. The camera can be allowed in the phone's settings, under Apps.",
  },
  absent: {
    grade: "note",
    text: "There is no camera here to look through.",
    remedy: "Use a photo of the label, or type its tag.",
  },
  busy: {
    grade: "warning",
    text: "The camera did not open. Another app may be using it.",
    remedy: "Close the other app and look again, photograph the label, or type its tag.",
  },
};

/** Returns what is told where no camera can be looked through. */
export function noCamera(why: NoCamera): Message {
  return { code: `camera.${why}`, reason: null, ...told[why] };
}
