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
  offerNear: "What is near me",
  plateTable: "The register beside the nameplate",
  inRegister: "Register",
  onPlate: "Plate",
  unread: "–",
  lists: "Without a code",
  near: "Near me",
  work: "Work list",
  recent: "Visited here",
  locating: "Finding out where the phone is",
  noWork: "Nothing is due within a month, and nothing is noted to be done.",
  noRecent: "No visit was made on this phone yet.",
  longer: "Look longer at this photo",
  lookingLonger: "Looking longer",
} satisfies Record<string, string>;

export const linkWords = {
  ask: "Whose code is it?",
  whose: "Whose code is it?",
  code: "The code says",
  find: "Type its tag, or pick it below",
  plate: "Does its plate say this?",
  agree: "Yes, link the code to it",
  go: "Go on with",
  other: "Another instrument",
  back: "Find again",
  codes: "Codes on it",
  pending: "Pending: not yet in the register",
  elsewhere: "The code stands on another instrument",
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
