// What each question is called on the screen.
import type { Key } from "../api/types";

/** A question's label, and a line that helps where the label alone could be misread. */
export interface Question {
  label: string;
  help?: string;
  /** True where the answer may take more than a line. */
  isLong?: boolean;
  /** True in a row of which nothing need be filled: it is not called optional each time. */
  inRow?: boolean;
}

export const keys: Record<Key, Question> = {
  found_by: { label: "How the instrument was found" },
  tag_matches: {
    label: "Does the tag on the nameplate agree?",
    help: "Read the plate itself, not the sticker.",
  },
  serial_read: { label: "Serial number on the nameplate" },
  unit_fitted: {
    label: "Is another unit fitted?",
    help: "Its serial number and limits then go to the register as a proposal.",
  },
  unit_lrl: { label: "LRL on its plate", help: "With its unit, such as -30 psi." },
  unit_url: { label: "URL on its plate", help: "With its unit, such as 30 psi." },
  unit_max_working: { label: "Maximum working pressure on its plate" },
  unit_min_span: { label: "Minimum span on its plate", help: "Left empty, the register's is used." },
  unit_trim_limit: { label: "Largest offset it can hold", help: "Left empty, the register's is used." },
  range_matches: { label: "Does the range on the nameplate agree?" },
  code_text: { label: "Text of the scanned code" },
  clock_offset: { label: "Minutes that the phone's clock is ahead of UTC" },

  safety_item: { label: "Safety item" },
  safety_reason: { label: "Why not?", isLong: true },
  control_room_told: {
    label: "Who in the control room was told?",
    help: "Name and, if you have it, the time.",
  },
  inhibit_minutes: {
    label: "Alarms inhibited for",
    help: "A reminder runs until then.",
  },

  display: { label: "Display now", help: "Before anything is touched." },
  loop_current: {
    label: "Loop current",
    help: "Clamp or test terminals only. Never open the loop for it.",
  },
  control_room: {
    label: "Level the control room sees",
    help: "As they read it to you, with its unit.",
  },
  offset_known: { label: "What is known of the offset the unit carries?" },
  offset_value: { label: "That offset", help: "With its sign. If it was cleared today, the old one." },
  standing_head_at: {
    label: "Where is the standing head taken out today?",
    help: "The pressure of the riser alone, with the tank at zero.",
  },
  line_bled: { label: "Was the line bled until it ran clear?" },
  vent_looked: { label: "How does the vent path look?" },
  damping: { label: "Damping set on the unit" },
  display_after_bleed: { label: "Display after bleeding" },
  liquid_temperature: {
    label: "Liquid temperature today",
    help: "Left empty, the register's value for the season is used.",
  },
  riser_temperature: {
    label: "Temperature of the line today",
    help: "Riser or impulse line. Left empty, the register's value is used.",
  },
  fill_temperature: {
    label: "Temperature of the fill today",
    help: "Leg or capillary. Left empty, the register's value is used.",
  },
  flow_in_riser: {
    label: "Does water run in the riser while you read?",
    help: "Drawn out it reads low, filled in high. The control room knows pumps and valves.",
  },
  flow_rate: { label: "How much?", help: "Left empty: not known." },
  flow_rate_from: { label: "Where is that number from?" },
  flow_in_riser_left: {
    label: "Does water run in the riser now?",
    help: "Left empty: the same as when the display was read as found.",
  },
  flow_rate_left: { label: "How much now?", help: "Left empty: not known." },
  flow_rate_from_left: { label: "Where is that number from?" },
  vessel_today: {
    label: "Is the vessel at work?",
    help: "Left empty, it is taken to be at its working pressure.",
  },
  display_cleared: { label: "Display after clearing", help: "With the offset set to 0." },

  empty_seen: { label: "How was the empty tank seen?" },
  dip: { label: "Read off the tape" },
  dip_set_aside: {
    label: "Reason to set it aside",
    help: "Left empty, it counts.",
  },
  tape_used: { label: "Tape used" },
  reading_before: { label: "Display just before" },
  reading_after: { label: "Display just after" },
  riser_height: {
    label: "Riser height",
    help: "Sensing point up to the tank's zero.",
  },
  riser_how: { label: "How was it measured?" },
  vented_reading: { label: "Display with both sides at atmosphere" },
  earlier_same: {
    label: "Same unit, neither moved nor mounted anew since that visit?",
    help: "Else that visit says nothing of today.",
  },
  vent_allowed: {
    label: "Cold, harmless, isolable, and no remote seal?",
    help: "Only then may it be vented.",
  },

  overflow_seen: { label: "How does the overflow run?" },
  overflow_head: {
    label: "Head over the crest",
    help: "Crest up to the surface, away from the edge where it draws down.",
  },
  other_used: { label: "Which instrument?", help: "Its tag, or what people call it." },
  other_level: { label: "Level it tells", help: "Above this tank's zero." },
  other_uncertainty: {
    label: "How far may it be off (95 %)?",
    help: "Above and below. From its certificate, if there is one.",
  },
  other_own_sensor: {
    label: "Does it measure with a sensor of its own?",
    help: "The control room's value of this same transmitter does not.",
  },
  vented_left: {
    label: "Liquid left standing on the sensor",
    help: "A stub of water below the vent. Left empty: none.",
  },
  display_repeat: {
    label: "Display read again",
    help: "A few more, some seconds apart, show scatter and drift.",
  },
  tape_temperature: {
    label: "Temperature of the tape",
    help: "As the air it hung in, or a thermometer on it. Left empty, nothing is corrected for it.",
  },
  tape_sideways: {
    label: "How far off plumb did it hang?",
    help: "Its foot sideways of its top. Left empty, it is taken to hang plumb.",
  },
  crew: { label: "How many are you today?", help: "Nobody alone is sent up a ladder." },

  decision: { label: "Your decision" },
  decision_reason: { label: "Why, against the advice?", isLong: true },
  trim_rule: { label: "Trim rule" },

  trim_result: { label: "Did the trim take?" },
  display_left: { label: "Display now" },
  current_left: {
    label: "Loop current now",
    help: "Clamp or test terminals only.",
  },
  control_room_left: { label: "Level the control room sees now" },

  back_item: { label: "Back in service" },
  back_reason: { label: "Why not?", isLong: true },

  note: { label: "Anything else worth knowing", isLong: true },
  safety_item_earlier: { label: "Safety item, before a break" },
  safety_reason_earlier: { label: "Why not, before a break" },
  control_room_told_earlier: { label: "Who in the control room was told, before a break" },
  inhibit_minutes_earlier: { label: "Alarms inhibited for, before a break" },
  crew_earlier: { label: "How many you were, before a break" },
  pressure_source: {
    label: "Is a pressure source at hand for a five-point check?",
    help: "Only where the transmitter may be isolated and vented.",
  },
  source_name: { label: "Pressure source used", help: "As it is marked." },
  source_uncertainty: {
    label: "Its uncertainty, k = 2",
    help: "As its certificate says: 0.02 kPa, 0.003 psi, or 0.05 % of the span.",
  },
  applied_as: { label: "What do you apply?" },
  meter_uncertainty: {
    label: "Uncertainty of the current meter, k = 2",
    help: "Left empty, the meter is taken as true to its last digit.",
  },
  source_unit: { label: "The source reads in" },
  check_applied: { label: "Applied", inRow: true },
  check_display: { label: "Display shows", inRow: true },
  check_current: { label: "Loop current", inRow: true },
  check_applied_left: { label: "Applied", inRow: true },
  check_display_left: { label: "Display shows", inRow: true },
  check_current_left: { label: "Loop current", inRow: true },

  warning_reason: { label: "Your reason for going on", isLong: true },
};
