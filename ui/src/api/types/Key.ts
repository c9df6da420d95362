// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * What an answer is about.
 *
 * The codes are frozen: signed records hold them. A code is never given a second meaning; new keys
 * take new numbers.
 */
export type Key = "found_by" | "tag_matches" | "serial_read" | "range_matches" | "code_text" | "safety_item" | "safety_reason" | "control_room_told" | "inhibit_minutes" | "display" | "loop_current" | "control_room" | "offset_known" | "offset_value" | "standing_head_at" | "line_bled" | "vent_looked" | "damping" | "display_after_bleed" | "liquid_temperature" | "display_cleared" | "riser_temperature" | "fill_temperature" | "flow_in_riser" | "flow_rate" | "flow_rate_from" | "flow_in_riser_left" | "vessel_today" | "empty_seen" | "dip" | "dip_set_aside" | "tape_used" | "reading_before" | "reading_after" | "riser_height" | "riser_how" | "vented_reading" | "vent_allowed" | "overflow_seen" | "overflow_head" | "other_used" | "other_level" | "other_uncertainty" | "other_own_sensor" | "vented_left" | "display_repeat" | "tape_temperature" | "crew" | "decision" | "decision_reason" | "trim_rule" | "trim_result" | "display_left" | "current_left" | "control_room_left" | "back_item" | "back_reason" | "note" | "warning_reason" | "pressure_source" | "source_name" | "source_uncertainty" | "applied_as" | "meter_uncertainty" | "source_unit" | "check_applied" | "check_display" | "check_current" | "check_applied_left" | "check_display_left" | "check_current_left" | "safety_item_earlier" | "safety_reason_earlier" | "flow_rate_left" | "flow_rate_from_left" | "earlier_same" | "control_room_told_earlier" | "inhibit_minutes_earlier" | "crew_earlier" | "tape_sideways";
