// The words of the screens that send, and that make a phone belong to a hub.
import type { SendButton } from "../api/types";

export const sendWords = {
  open: "Send records",
  title: "Records to the hub",
  waiting: "Waiting to arrive",
  nothing: "Nothing waits.",
  settings: "How it is sent",
  metered: "Send photos over mobile data too",
  meteredWhat: "Records always go. Photos are large.",
  pause: "Pause sending",
  pauseWhat: "Everything stays on this phone until you let it go on.",
  space: "Space on this phone",
  spaceKeep: "Keep them here",
  spaceFree: "Take them off",
  byFile: "Without a network",
  byFileWhat:
    "Records can go as a file: by cable, by a memory card, or through somebody else's phone. Giving or taking the same file twice does no harm.",
  make: "Write a file of what waits",
  made: "Written to this file:",
  take: "Take in a file",
  taking: "Reading the file",
  hub: "The hub of this phone",
  noHub: "None yet.",
  changeHub: "Scan a hub's code",
} satisfies Record<string, string>;

export const sendButtons: Record<SendButton, string> = {
  enrol: "Scan the hub's code",
  send: "Send now",
  stop: "Stop sending",
  resume: "Let sending go on",
};

export const enrolWords = {
  title: "The hub of this phone",
  scan: "Scan the hub's code",
  hold: "Hold the hub's code inside the frame",
  typed: "Or paste the text of the code",
  typedHelp: "It begins with headmark-enrol.",
  use: "Use this code",
  asking: "Asking the hub",
  digits: "The same six digits must stand on the hub",
  giveUp: "Give up waiting",
  another: "Scan another hub's code",
  toSending: "Records to the hub",
  notOne: "This code is not a hub's. Hold the phone to the code that the hub shows.",
} satisfies Record<string, string>;

export const photoWords = {
  title: "Photos of this visit",
  none: "None yet.",
  take: "Take a photo",
  choose: "Choose a photo",
  adding: "Adding the photo",
} satisfies Record<string, string>;
