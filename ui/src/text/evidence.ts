// Kinds of evidence, when they were taken, and who shows a level.
import type { PieceKind, ShiftState, Timing } from "../api/types";

export const pieces: Record<PieceKind, { label: string; help: string }> = {
  known_empty: { label: "Tank empty, riser full", help: "Water stands at the outlet sill." },
  dip: { label: "Dip from the floor", help: "Tape from the tank floor up to the surface." },
  drop: { label: "Drop from the hatch", help: "Tape from the hatch mark down to the surface." },
  riser: { label: "Measured riser", help: "Sensing point up to the tank's zero." },
  earlier_visit: {
    label: "An earlier visit",
    help: "The offset it called for, with what the sensor may have moved since.",
  },
  vented: { label: "Vented check", help: "Both sides at atmosphere." },
  overflow: { label: "Overflow running", help: "The surface stands at the crest, or a little above." },
  other_instrument: {
    label: "Another instrument",
    help: "With a sensor of its own, not this loop seen elsewhere.",
  },
};

export const timings: Record<Timing, string> = {
  before: "before the trim",
  after: "after the trim",
};

export const shiftStates: Record<ShiftState, string> = {
  trim: "Trim",
  do_not_adjust: "Do not adjust",
  not_determined: "Not determined yet",
  blocked: "Something stands before it",
};
