// The words of the screens of a PIN. What a PIN is, and what went wrong with one, the core says.

export const pinWords = {
  title: "Your PIN",
  isSet: "Asked for a PIN when signing.",
  isNotSet: "No PIN is set.",
  open: "Set a PIN",
  openSet: "Change or take off the PIN",

  pinOf: "PIN of",
  old: "The PIN you have now",
  fresh: "The new PIN",
  again: "The new PIN again",
  show: "Show",
  hide: "Hide",
  keys: "Keys for the PIN",

  set: "Set this PIN",
  change: "Change the PIN",
  remove: "Take the PIN off",
  checking: "Checking",

  askTitle: "Sign with your PIN",
  without: "Sign without the PIN",
  turnWithout: "Without the PIN",
  with: "Type the PIN",
  back: "Not yet",
} satisfies Record<string, string>;
