// What each choice is called on the screen.
import type { Choice } from "../api/types";

export const choices: Record<Choice, string> = {
  yes: "Yes",
  no: "No",
  not_legible: "Not legible",
  done: "Done",
  does_not_apply: "Does not apply",
  not_done: "Not done",

  by_code: "By its tag code",
  by_typing: "By typing the tag",
  by_list: "From the list",

  offset_read_today: "Read on the unit today",
  offset_cleared_today: "Cleared today, old value noted",
  offset_from_record: "Taken from a record",
  offset_unknown: "Nobody knows",

  head_in_offset: "By an offset in the transmitter",
  head_in_range: "By the range: LRV stands at the head",
  head_in_control_room: "By scaling in the control room",
  head_nowhere: "Nowhere: it shows the riser too",
  head_twice: "In two places at once",
  head_not_settled: "Not settled yet",

  bled_clear: "Yes, until clear",
  bled_not_possible: "Not possible today",

  vent_clear: "Clear and dry",
  vent_blocked: "Blocked or wet",
  vent_not_seen: "Could not be seen",

  flow_still: "No, it stands still",
  flow_drawing: "Yes, drawn out of the tank",
  flow_filling: "Yes, filled into the tank",
  flow_not_known: "Nobody knows",
  flow_as_found: "As when I read it as found",

  rate_metered: "A flow meter shows it",
  rate_estimated: "By the pumps, or from experience",

  sill_seen: "Outlet sill seen, dry at its edge",
  empty_by_steady_reading: "Reading stood still, outlet open",
  empty_by_report: "Somebody said so",

  film: "As a film over the crest",
  head_measured: "Higher: I measured the head",

  alone: "I am alone",
  two_or_more: "Two or more",

  by_tape: "With a tape",
  by_laser: "With a laser",
  by_drawing: "Off a drawing",

  vessel_working: "At working pressure and temperature",
  vessel_cold: "Cold, at atmospheric pressure",

  trim: "Trim it",
  leave: "Leave it",

  true_at_zero: "Zero level shows zero",
  true_at_reference: "Display shows the measured level",

  applied_pressure: "A pressure on the sensor",
  simulated_level: "A level it should show",

  trim_took: "Yes, it took",
  put_back: "No, put back as found",
};
