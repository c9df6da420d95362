// Written by `cargo run -p bindings`. Do not edit: change the Rust type instead.

/**
 * A choice. Kept in answers and signed records as its word, which is frozen.
 */
export type Choice = "yes" | "no" | "not_legible" | "done" | "does_not_apply" | "not_done" | "by_code" | "by_typing" | "by_list" | "offset_read_today" | "offset_cleared_today" | "offset_from_record" | "offset_unknown" | "head_in_offset" | "head_in_range" | "head_in_control_room" | "head_nowhere" | "head_twice" | "head_not_settled" | "bled_clear" | "bled_not_possible" | "vent_clear" | "vent_blocked" | "vent_not_seen" | "flow_still" | "flow_drawing" | "flow_filling" | "flow_not_known" | "flow_as_found" | "rate_metered" | "rate_estimated" | "sill_seen" | "empty_by_steady_reading" | "empty_by_report" | "film" | "head_measured" | "alone" | "two_or_more" | "by_tape" | "by_laser" | "by_drawing" | "vessel_working" | "vessel_cold" | "trim" | "leave" | "true_at_zero" | "true_at_reference" | "applied_pressure" | "simulated_level" | "trim_took" | "put_back";
