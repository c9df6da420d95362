//! What runs in the riser while the display is read: asked where it matters, taken off where the pipe is known, widened
//! where nobody knows, and said where neither is possible.
//!
//! Losses at the visit are those of `tests/suite/reference/flow.json` (Darcy-Weisbach with Colebrook's factor, C. F. Colebrook,
//! J. Inst. Civ. Eng. 11, 1939): 8 in bore, 40 ft, 500 US gpm, 0.045 mm, water of 10 degC and a square entry lose 0.1701 ft by
//! friction and hold a velocity head of 0.1583 ft, so the foot reads 0.4075 ft low drawn and 0.1701 ft high filled.

use domain::visit::{
    Assessment, Choice, Doubt, Draft, Grade, Instrument, Key, Known, Moment, PieceId, PieceKind, Remark,
    ResultKey, Spot, Step, Timing, assess,
};
use rstest::rstest;
use serde_json::{Value, json};
use uom::si::length::foot;
use uom::si::pressure::pascal;

/// A tower of 40 ft of riser, 8 in wide, in which up to 500 US gallons a minute run. At 45 degrees and sea level gravity is
/// 9.806 m/s2, so that a foot of this water presses what a foot does in the reference.
fn row() -> Value {
    json!({
        "tag": "LT-1", "service": "tower", "serial": "A1", "unit": "ft", "riser": "40 ft 0 in", "riser_from": "tape",
        "site": {
            "name": "Sedge Hill", "latitude": "45", "altitude": "0 m", "liquid_temperature": "10 degC", "lengths": "ft",
        },
        "liquid": { "name": "water" }, "span": "30 ft", "lrv": "0", "urv": "30", "hatch": "34 ft",
        "limits": {
            "lrl": "-50 psi", "url": "50 psi", "min_span": "1 psi", "max_working": "100 psi", "accuracy": "0.02 %",
            "zero_allowance": "0.01 psi",
        },
        "tapes": [{ "id": "T1", "uncertainty": "1 mm" }],
        "tolerance": "0.3 ft", "trim_rule": "true_at_zero", "head_plan": "head_in_offset",
        "riser_pipe": { "bore": "8 in", "roughness": "0.045 mm", "entry": "0.5", "most_flow": "500 US gpm" },
    })
}

fn with(row: &Value, path: &str, value: Value) -> Value {
    let mut row = row.clone();
    let (parent, field) = path.rsplit_once('/').unwrap();
    row.pointer_mut(parent).unwrap()[field] = value;
    row
}

/// A crew at the tower: the display is read, and three dips say 12 ft.
struct Crew {
    draft: Draft,
    clock: i64,
}

impl Crew {
    fn at(row: Value, display: &str) -> Crew {
        let instrument: Instrument = serde_json::from_value(row).unwrap();
        let begun = 1_795_600_000_000;
        let mut crew = Crew { draft: Draft::begin(instrument, Moment(begun)), clock: begun };
        crew.says(Key::Display, display);
        crew.chooses(Key::OffsetKnown, Choice::OffsetUnknown);
        crew.chooses(Key::StandingHeadAt, Choice::HeadInOffset);
        crew.chooses(Key::LineBled, Choice::BledClear);
        crew.chooses(Key::VentLooked, Choice::VentClear);
        let id = crew.draft.add_piece(PieceKind::Dip, Timing::Before);
        for row in 0..3 {
            crew.put(Spot::piece(id, Key::Dip, row), "12 ft 0 in");
        }
        crew.put(Spot::piece(id, Key::TapeUsed, 0), "T1");
        crew
    }

    fn put(&mut self, spot: Spot, text: &str) {
        self.clock += 10_000;
        self.draft.answers.put(spot, text.to_owned(), Moment(self.clock));
    }

    fn says(&mut self, key: Key, text: &str) {
        self.put(Spot::of(key), text);
    }

    fn chooses(&mut self, key: Key, choice: Choice) {
        self.says(key, choice.word());
    }

    fn flows(mut self, way: Choice, rate: &str) -> Crew {
        self.chooses(Key::FlowInRiser, way);
        if !rate.is_empty() {
            self.says(Key::FlowRate, rate);
            self.chooses(Key::FlowRateFrom, Choice::RateMetered);
        }
        self
    }

    fn sees(&self) -> Assessment {
        assess(&self.draft).unwrap()
    }

    fn result(&self, key: ResultKey) -> Option<f64> {
        let results = self.sees().results(&self.draft);
        let line = results.into_iter().find(|line| line.key == key)?;
        let Measured(value) = Measured::of(&line.value.value.to_string());
        Some(value)
    }
}

/// A decimal as a person reads it off the record.
struct Measured(f64);

impl Measured {
    fn of(text: &str) -> Measured {
        Measured(text.parse().unwrap())
    }
}

fn found(seen: &Assessment) -> f64 {
    seen.left.found.unwrap_or(seen.shift.result.as_ref().unwrap().error).value.get::<foot>()
}

fn said<'a>(seen: &'a Assessment, step: Step, code: &str) -> Option<&'a Remark> {
    seen.remarks(step).iter().find(|remark| remark.code == code)
}

/// The display shows what the foot feels: 12 ft, less or more what the reference says the flow does. So without the flow it is
/// true, to the reference's own tolerance and a thousandth for the air that the display's foot is net of.
#[rstest]
#[case::drawn(Choice::FlowDrawing, "11.5925", -0.4075, 0.0029)]
#[case::filled(Choice::FlowFilling, "12.1701", 0.1701, 0.0011)]
fn a_flow_that_is_known_is_taken_off(
    #[case] way: Choice,
    #[case] display: &str,
    #[case] felt: f64,
    #[case] within: f64,
) {
    let crew = Crew::at(row(), display).flows(way, "500");
    let seen = crew.sees();
    assert!(found(&seen).abs() < within, "{}", found(&seen));
    // A foot of water of 10 degC: 999.70 * 9.806 * 0.3048 = 2988 Pa.
    let pascals = crew.result(ResultKey::FlowError).unwrap();
    assert!((pascals - felt * 2988.0).abs() < within * 2988.0, "{pascals}");
    let silent = Crew::at(row(), display).sees();
    assert!((found(&silent) - felt).abs() < 0.01, "{}", found(&silent));
}

#[test]
fn what_is_taken_off_has_a_line_in_the_budget_and_in_the_working() {
    let crew = Crew::at(row(), "11.59").flows(Choice::FlowDrawing, "500");
    let seen = crew.sees();
    let result = seen.shift.result.as_ref().unwrap();
    let line = result.budget.iter().find(|row| row.label.starts_with("flow in the riser")).unwrap();
    assert!((line.sensitivity.abs() - 1.0).abs() < 1e-9 && line.share > 0.3, "{line:?}");
    let working = crew.sees().working(&crew.draft);
    let line = working.iter().find(|line| line.what.starts_with("flow in the riser")).unwrap();
    // The reference's velocity 3.1914 ft/s is 0.973 m/s; friction 0.1701 ft 51.8 mm, velocity head 0.1583 ft 48.2 mm.
    for number in ["500 US gpm", "203.2 mm", "0.973 m/s", "f 0.0179", "48.2"] {
        assert!(line.how.contains(number), "{number}: {}", line.how);
    }
    assert!(line.value.starts_with("-0.41 ft"), "{}", line.value);
    assert!(working.iter().any(|line| line.what == "flow that is harmless"));
}

/// Three levels of size against the tolerance of 0.3 ft: 0.4075 ft is past a third of it, 0.0035 ft is not.
#[rstest]
#[case::grave("500", Some(Doubt::RiserFlows))]
#[case::small("40", None)]
fn a_flow_is_doubted_past_a_third_of_the_tolerance(#[case] rate: &str, #[case] doubt: Option<Doubt>) {
    let crew = Crew::at(row(), "12.00").flows(Choice::FlowDrawing, rate);
    let seen = crew.sees();
    let doubted = said(&seen, Step::AsFound, Doubt::RiserFlows.code());
    assert_eq!(doubted.map(|remark| remark.reason_row), doubt.map(Doubt::row));
    let small = said(&seen, Step::AsFound, "riser.flow_small");
    assert_eq!(small.is_some(), doubt.is_none());
    let text = &doubted.or(small).unwrap().text;
    assert!(text.contains("Harmless, within a third of the tolerance: up to "), "{text}");
    assert!(text.contains(&format!("{rate} US gpm")), "{text}");
}

/// The largest harmless flow errs by just a third of the tolerance: asked again with that rate, the display is 0.1 ft off.
#[rstest]
#[case::drawn(Choice::FlowDrawing, ResultKey::HarmlessDrawn)]
#[case::filled(Choice::FlowFilling, ResultKey::HarmlessFilled)]
fn the_largest_harmless_flow_errs_by_a_third_of_the_tolerance(#[case] way: Choice, #[case] key: ResultKey) {
    let harmless = Crew::at(row(), "12.00").flows(way, "500").result(key).unwrap();
    // A US gallon a minute is 6.30902e-5 m3/s.
    let rate = format!("{:.3}", harmless / 6.309_02e-5);
    let again = Crew::at(row(), "12.00").flows(way, &rate).result(ResultKey::FlowError).unwrap();
    assert!((again.abs() - 0.1 * 2988.0).abs() < 1.0, "{rate} US gpm: {again} Pa");
}

#[test]
fn a_rate_from_experience_counts_for_less_than_a_metered_one() {
    let expanded = |from: Option<Choice>| {
        let mut crew = Crew::at(row(), "11.59").flows(Choice::FlowDrawing, "500");
        crew.says(Key::FlowRateFrom, from.map_or("", Choice::word));
        crew.sees().shift.result.unwrap().shift.expanded.get::<pascal>()
    };
    let metered = expanded(Some(Choice::RateMetered));
    let guessed = expanded(Some(Choice::RateEstimated));
    assert!(guessed > 2.0 * metered, "{guessed} {metered}");
    assert!((expanded(None) - guessed).abs() < 1e-9);
}

#[test]
fn a_flow_of_unknown_rate_is_half_corrected_and_all_of_it_counts() {
    let crew = Crew::at(row(), "11.80").flows(Choice::FlowDrawing, "");
    // Half of 0.4075 ft.
    assert!((crew.result(ResultKey::FlowError).unwrap() + 0.20375 * 2988.0).abs() < 5.0);
    // hypot(half, 15 % of the whole): hypot(0.20375, 0.061125) = 0.21272 ft.
    assert!((crew.result(ResultKey::FlowErrorHalfWidth).unwrap() - 0.21272 * 2988.0).abs() < 5.0);
    assert!(said(&crew.sees(), Step::AsFound, Doubt::RiserFlows.code()).is_some());
}

#[test]
fn where_nobody_knows_nothing_is_taken_off_and_the_worst_of_either_way_counts() {
    let crew = Crew::at(row(), "12.00").flows(Choice::FlowNotKnown, "");
    let seen = crew.sees();
    let still = Crew::at(row(), "12.00").flows(Choice::FlowStill, "").sees();
    assert!((found(&seen) - found(&still)).abs() < 1e-9);
    let expanded = |seen: &Assessment| seen.shift.result.as_ref().unwrap().error.expanded.get::<foot>();
    // hypot(0.4075, 15 % of it) = 0.41206 ft as a rectangle: 0.2379 ft standard, and with k about 1.7 or more past 0.4 ft.
    assert!(expanded(&seen) > 0.4 && expanded(&still) < 0.1, "{} {}", expanded(&seen), expanded(&still));
    let doubt = said(&seen, Step::AsFound, Doubt::FlowNotKnown.code()).unwrap();
    assert!(doubt.text.contains("-4.89 in drawn out") && doubt.reason_row == 33, "{}", doubt.text);
    assert!(still.remarks(Step::AsFound).iter().all(|remark| !remark.code.starts_with("riser.flow")));
}

/// The pipe is not in the register: nothing is corrected or widened, and that is said.
#[rstest]
#[case::runs(Choice::FlowDrawing, "500", Doubt::RiserFlows)]
#[case::not_known(Choice::FlowNotKnown, "", Doubt::FlowNotKnown)]
fn without_the_pipe_it_warns_without_a_number(
    #[case] state: Choice,
    #[case] rate: &str,
    #[case] doubt: Doubt,
) {
    let mut bare = row();
    bare.as_object_mut().unwrap().remove("riser_pipe");
    let crew = Crew::at(bare.clone(), "12.00").flows(state, rate);
    let seen = crew.sees();
    let remark = said(&seen, Step::AsFound, doubt.code()).unwrap();
    assert!(remark.grade == Grade::Warning && remark.remedy.contains("bore"), "{remark:?}");
    let still = Crew::at(bare, "12.00").sees();
    assert_eq!(seen.shift.result.as_ref().unwrap().shift, still.shift.result.as_ref().unwrap().shift);
    assert_eq!(crew.result(ResultKey::FlowError), None);
    assert!(!seen.missing(Step::AsFound).is_empty(), "a reason is wanted");
}

/// Asked of whom: a riser under an open tank, and a must only where the largest usual flow would matter.
#[rstest]
#[case::grave_flow(row(), true, true)]
#[case::wide_riser(with(&row(), "/riser_pipe/bore", json!("36 in")), true, false)]
#[case::not_described(with(&row(), "/riser_pipe", Value::Null), true, false)]
#[case::dead_leg(with(&row(), "/riser_pipe", json!({ "dead_leg": true })), false, false)]
#[case::probe(with(&with(&row(), "/riser_pipe", Value::Null), "/mounting", json!({ "kind": "probe" })), false, false)]
#[case::above(with(&with(&row(), "/riser_pipe", Value::Null), "/riser", json!("-2 ft")), false, false)]
fn asked_only_where_it_may_matter(#[case] row: Value, #[case] asked: bool, #[case] required: bool) {
    let crew = Crew::at(row, "12.00");
    let seen = crew.sees();
    let asks = seen.asks(&crew.draft, Step::AsFound);
    let ask = asks.iter().find(|ask| ask.spot.key == Key::FlowInRiser);
    assert_eq!((ask.is_some(), ask.is_some_and(|ask| ask.required)), (asked, required));
    assert!(asks.iter().all(|ask| ask.spot.key != Key::FlowRate), "no rate before water runs");
    let assumed = seen.shift.assumptions.iter().any(|remark| remark.code == "assumed.still");
    assert_eq!(assumed, asked, "silence is an assumption");
}

#[test]
fn what_must_be_said_is_among_what_one_touch_states() {
    let keys = |row| {
        let crew = Crew::at(row, "12.00");
        let mut draft = crew.draft.clone();
        draft.answers.put(Spot::of(Key::VentLooked), String::new(), Moment(crew.clock));
        draft.answers.put(Spot::of(Key::LineBled), String::new(), Moment(crew.clock));
        let stated = assess(&draft).unwrap().together(&draft, Step::AsFound);
        stated.iter().map(|line| line.spot.key).collect::<Vec<_>>()
    };
    assert!(keys(row()).contains(&Key::FlowInRiser));
    assert!(!keys(with(&row(), "/riser_pipe", Value::Null)).contains(&Key::FlowInRiser));
}

/// Trimmed while 500 US gpm are drawn: 11.59 on a display that is true. As left the flow has stopped, and the same display shows
/// 0.4075 ft more; that is the flow, not an error.
#[test]
fn a_flow_that_stops_before_the_trim_is_read_moves_the_target() {
    let mut crew = Crew::at(row(), "11.59").flows(Choice::FlowDrawing, "500");
    crew.chooses(Key::Decision, Choice::Trim);
    crew.chooses(Key::TrimResult, Choice::TrimTook);
    crew.says(Key::DisplayLeft, "12.00");
    let same = crew.sees();
    assert!((same.left.left.unwrap().value.get::<foot>() - 0.41).abs() < 0.01, "{:?}", same.left.left);
    crew.chooses(Key::FlowInRiserLeft, Choice::FlowStill);
    let seen = crew.sees();
    let left = seen.left.left.unwrap();
    assert!(left.value.get::<foot>().abs() < 0.006, "{left:?}");
    assert!(left.expanded > same.left.left.unwrap().expanded);
    let note = said(&seen, Step::AsLeft, "riser.flow_changed").unwrap();
    assert!(note.text.contains("It should show 12.00 ft now"), "{}", note.text);
    // On the Shift step the target already says what becomes of it.
    let target = seen.shift.remarks.iter().find(|remark| remark.code == "riser.flow_target").unwrap();
    assert!(target.text.contains("With the water standing it becomes 12.00 ft"), "{}", target.text);
}

#[test]
fn without_the_pipe_another_flow_as_left_takes_a_reason() {
    let bare = with(&row(), "/riser_pipe", Value::Null);
    let mut crew = Crew::at(bare, "11.59").flows(Choice::FlowDrawing, "");
    crew.chooses(Key::Decision, Choice::Trim);
    crew.chooses(Key::TrimResult, Choice::TrimTook);
    crew.says(Key::DisplayLeft, "12.00");
    assert!(said(&crew.sees(), Step::AsLeft, Doubt::FlowChanged.code()).is_none());
    crew.chooses(Key::FlowInRiserLeft, Choice::FlowStill);
    assert!(said(&crew.sees(), Step::AsLeft, Doubt::FlowChanged.code()).is_some());
}

/// A dip after the trim is read with the flow as left.
#[test]
fn a_proof_after_the_trim_takes_its_own_flow_off() {
    let mut crew = Crew::at(row(), "12.00").flows(Choice::FlowStill, "");
    crew.chooses(Key::Decision, Choice::Trim);
    crew.chooses(Key::TrimResult, Choice::TrimTook);
    crew.says(Key::DisplayLeft, "11.59");
    crew.chooses(Key::FlowInRiserLeft, Choice::FlowDrawing);
    crew.says(Key::FlowRateLeft, "500");
    crew.chooses(Key::FlowRateFromLeft, Choice::RateMetered);
    let proof = crew.draft.add_piece(PieceKind::Dip, Timing::After);
    for row in 0..3 {
        crew.put(Spot::piece(proof, Key::Dip, row), "12 ft 0 in");
    }
    crew.put(Spot::piece(proof, Key::TapeUsed, 0), "T1");
    let seen = crew.sees();
    assert!(seen.left.proved);
    assert!(seen.left.left.unwrap().value.get::<foot>().abs() < 0.006, "{:?}", seen.left.left);
    assert_eq!(proof, PieceId(2));
}

/// Neither a riser known by its height nor a check at atmosphere is moved by what runs past the tap.
#[test]
fn a_shift_by_riser_and_offset_does_not_hang_on_the_flow() {
    let shift = |flow: Option<Choice>| {
        let mut crew = Crew::at(row(), "11.59");
        crew.draft.remove_piece(PieceId(1));
        crew.chooses(Key::OffsetKnown, Choice::OffsetReadToday);
        crew.says(Key::OffsetValue, "-40.00");
        let id = crew.draft.add_piece(PieceKind::Riser, Timing::Before);
        crew.put(Spot::piece(id, Key::RiserHeight, 0), "40 ft 0 in");
        crew.put(Spot::piece(id, Key::RiserHow, 0), Choice::ByTape.word());
        if let Some(flow) = flow {
            crew = crew.flows(flow, "500");
        }
        crew.sees().shift.result.unwrap().shift.value.get::<pascal>()
    };
    assert!((shift(Some(Choice::FlowDrawing)) - shift(None)).abs() < 1e-6);
}

/// A register entry that cannot be used names the field.
#[rstest]
#[case::no_bore("bore", json!(""), "riser_pipe.bore")]
#[case::bore_without_unit("bore", json!("8"), "riser_pipe.bore")]
#[case::bore_too_wide("bore", json!("40 ft"), "riser_pipe")]
#[case::no_flow("most_flow", json!(""), "riser_pipe.most_flow")]
#[case::either_gallon("most_flow", json!("500 gpm"), "riser_pipe.most_flow")]
#[case::flow_zero("most_flow", json!("0 L/s"), "riser_pipe.most_flow")]
#[case::rough_as_the_bore("roughness", json!("30 mm"), "riser_pipe")]
#[case::entry_negative("entry", json!("-0.5"), "riser_pipe.entry")]
#[case::fittings_not_a_number("fittings", json!("NaN"), "riser_pipe.fittings")]
#[case::length_not_a_length("length", json!("long"), "riser_pipe.length")]
#[case::viscosity_of_water("viscosity", json!("1.3"), "riser_pipe.viscosity")]
#[case::dead_leg_with_a_bore("dead_leg", json!(true), "riser_pipe.dead_leg")]
fn a_bad_pipe_is_named(#[case] field: &str, #[case] value: Value, #[case] named: &str) {
    let bad: Instrument =
        serde_json::from_value(with(&row(), &format!("/riser_pipe/{field}"), value)).unwrap();
    let faults = Known::read(&bad).unwrap_err();
    assert!(faults.iter().any(|fault| fault.field == named), "{faults:?}");
}

#[test]
fn another_liquid_needs_its_viscosity_and_another_mounting_has_no_pipe() {
    let brine = json!({ "name": "brine", "density": "1180 kg/m3", "at": "10 degC", "expansion": "0.0004" });
    let thick = with(&row(), "/liquid", brine);
    let read = |row: Value| Known::read(&serde_json::from_value::<Instrument>(row).unwrap());
    assert!(read(thick.clone()).unwrap_err().iter().any(|fault| fault.field == "riser_pipe.viscosity"));
    assert!(read(with(&thick, "/riser_pipe/viscosity", json!("1.9"))).is_ok());
    let probe = read(with(&row(), "/mounting", json!({ "kind": "probe" }))).unwrap_err();
    assert!(probe.iter().any(|fault| fault.field == "riser_pipe"), "{probe:?}");
}

/// At 500 US gpm 1.5 velocity heads of 0.1583 ft and a friction of 0.1701 ft. A twentieth more makes the first 1.1025 times as
/// large and the second 1.05^1.87 = 1.0955 times, three tenths more 1.69 and 1.633 times: 0.0406 and 0.272 ft more drawn out, 0.0162
/// and 0.108 ft filled in. With 15 % of the whole for the pipe, root of the sum of squares.
#[rstest]
#[case::drawn_by_a_meter(Choice::FlowDrawing, Choice::RateMetered, 0.0734)]
#[case::drawn_by_estimate(Choice::FlowDrawing, Choice::RateEstimated, 0.2784)]
#[case::filled_by_a_meter(Choice::FlowFilling, Choice::RateMetered, 0.0303)]
#[case::filled_by_estimate(Choice::FlowFilling, Choice::RateEstimated, 0.1106)]
fn what_a_rate_leaves_open_is_the_rate_and_the_pipe(
    #[case] way: Choice,
    #[case] from: Choice,
    #[case] feet: f64,
) {
    let mut crew = Crew::at(row(), "12.00").flows(way, "500");
    crew.chooses(Key::FlowRateFrom, from);
    let half = crew.result(ResultKey::FlowErrorHalfWidth).unwrap() / 2988.0;
    assert!((half - feet).abs() < 0.01 * feet, "{half} ft");
}

/// The worse of both ways, 0.4075 ft, with 15 % of it for the pipe: 0.41206 ft.
#[test]
fn what_nobody_knows_is_as_wide_as_the_worst() {
    let crew = Crew::at(row(), "12.00").flows(Choice::FlowNotKnown, "");
    let half = crew.result(ResultKey::FlowErrorHalfWidth).unwrap() / 2988.0;
    assert!((half - 0.41206).abs() < 0.003, "{half} ft");
    assert_eq!(crew.result(ResultKey::FlowError), Some(0.0));
}

#[rstest]
#[case::usual("500", None)]
#[case::less("40", None)]
#[case::more("501", Some("501 US gpm is more than the riser's largest usual flow, 500 US gpm."))]
fn more_than_the_usual_flow_is_asked_about(#[case] rate: &str, #[case] text: Option<&str>) {
    let seen = Crew::at(row(), "12.00").flows(Choice::FlowDrawing, rate).sees();
    assert_eq!(said(&seen, Step::AsFound, "riser.flow_above_usual").map(|remark| remark.text.as_str()), text);
}

/// The line of the working: what was taken, then Darcy-Weisbach with its numbers. A friction of 0.1701 ft, 51.85 mm, and a
/// velocity head of 0.1583 ft, 48.25 mm.
#[rstest]
#[case::drawn(
    Choice::FlowDrawing,
    "500",
    "500 US gpm through 203.2 mm: ",
    "-(51.9 + 0.0 + (1 + 0.50) x 48.2) mm"
)]
#[case::filled(Choice::FlowFilling, "500", "500 US gpm through 203.2 mm: ", "48.2 mm; 51.9 + 0.0 mm")]
#[case::no_rate(
    Choice::FlowDrawing,
    "",
    "rate not known; half of what the largest does: 500 US gpm through ",
    "-(51.9 + 0.0 + (1 + 0.50) x 48.2) mm"
)]
#[case::not_known(
    Choice::FlowNotKnown,
    "",
    "not known whether any runs; nothing corrected, as wide as the largest: 500 US gpm through ",
    "-(51.9 + 0.0 + (1 + 0.50) x 48.2) mm"
)]
fn the_working_of_a_flow_has_its_numbers(
    #[case] way: Choice,
    #[case] rate: &str,
    #[case] begins: &str,
    #[case] ends: &str,
) {
    let crew = Crew::at(row(), "12.00").flows(way, rate);
    let working = crew.sees().working(&crew.draft);
    let line = working.iter().find(|line| line.what == "flow in the riser makes the display read").unwrap();
    assert!(line.how.starts_with(begins) && line.how.ends_with(ends), "{}", line.how);
    assert!(working.iter().all(|line| line.what != "the flow as left makes it read"), "it is the same one");
}

/// What is harmless is said as it is kept: the rate at which the foot is 0.1 ft off.
#[test]
fn what_is_harmless_is_said_as_it_is_kept() {
    let crew = Crew::at(row(), "12.00").flows(Choice::FlowDrawing, "500");
    let working = crew.sees().working(&crew.draft);
    let line = working.iter().find(|line| line.what == "flow that is harmless").unwrap();
    let told: Vec<f64> = line.value.split_whitespace().filter_map(|word| word.parse().ok()).collect();
    let kept = [ResultKey::HarmlessDrawn, ResultKey::HarmlessFilled].map(|key| crew.result(key).unwrap());
    for (told, kept) in told.into_iter().zip(kept) {
        assert!((told - kept / 6.309_02e-5).abs() < 0.006 * told, "{} for {kept} m3/s", line.value);
    }
    assert!(line.value.ends_with("filled in") && line.value.contains("drawn out"), "{}", line.value);
}

/// As left 500 US gpm are filled in, 0.1701 ft; drawn out as found.
#[test]
fn another_flow_as_left_has_its_own_number_and_line() {
    let mut crew = Crew::at(row(), "11.59").flows(Choice::FlowDrawing, "500");
    crew.chooses(Key::Decision, Choice::Trim);
    crew.chooses(Key::TrimResult, Choice::TrimTook);
    crew.says(Key::DisplayLeft, "12.00");
    assert_eq!(crew.result(ResultKey::FlowErrorLeft), None);
    crew.chooses(Key::FlowInRiserLeft, Choice::FlowFilling);
    crew.says(Key::FlowRateLeft, "500");
    crew.chooses(Key::FlowRateFromLeft, Choice::RateMetered);
    let left = crew.result(ResultKey::FlowErrorLeft).unwrap();
    assert!((left - 0.1701 * 2988.0).abs() < 4.0, "{left}");
    let working = crew.sees().working(&crew.draft);
    let line = working.iter().find(|line| line.what == "the flow as left makes it read").unwrap();
    assert!(line.how.ends_with("51.9 + 0.0 mm"), "{}", line.how);
    assert!(line.value.starts_with("+0.17 ft"), "{}", line.value);
}

/// Still as found and not known as left: nothing moved for certain, but the display may be off by the worst.
#[test]
fn a_flow_that_may_have_begun_is_said_with_its_width() {
    let mut crew = Crew::at(row(), "12.00").flows(Choice::FlowStill, "");
    crew.chooses(Key::Decision, Choice::Trim);
    crew.chooses(Key::TrimResult, Choice::TrimTook);
    crew.says(Key::DisplayLeft, "12.00");
    crew.chooses(Key::FlowInRiserLeft, Choice::FlowNotKnown);
    let seen = crew.sees();
    let note = said(&seen, Step::AsLeft, "riser.flow_changed").unwrap();
    assert!(note.text.contains("that moves it by +0.00 ft, ± 0.41"), "{}", note.text);
}

/// The questions stand behind the control room's level; as left the flow may be as it was, and nobody must say so.
#[test]
fn the_flow_is_asked_behind_the_control_room() {
    let mut crew = Crew::at(row(), "12.00").flows(Choice::FlowStill, "");
    crew.chooses(Key::Decision, Choice::Trim);
    crew.chooses(Key::TrimResult, Choice::TrimTook);
    let seen = crew.sees();
    for (step, room, flow, required, first, ways) in [
        (Step::AsFound, Key::ControlRoom, Key::FlowInRiser, true, "flow_still", 4),
        (Step::AsLeft, Key::ControlRoomLeft, Key::FlowInRiserLeft, false, "flow_as_found", 5),
    ] {
        let asks = seen.asks(&crew.draft, step);
        let behind = asks.iter().position(|ask| ask.spot.key == room).expect("the control room is asked");
        let ask = &asks[behind + 1];
        assert_eq!((ask.spot.key, ask.required), (flow, required));
        let domain::visit::Takes::Choice(offered) = &ask.takes else { panic!("{ask:?}") };
        assert_eq!((offered[0].value.as_str(), offered.len()), (first, ways));
    }
}

/// 500 US gpm are 31.545 L/s or 113.56 m3/h, and through 8 in 3.1914 ft/s, 0.97 m/s.
#[rstest]
#[case::gallons("500 US gpm", "500", "31.5 L/s", "; 0.97 m/s in the riser")]
#[case::litres("31.545 L/s", "31.545", "114 m3/h", "; 0.97 m/s in the riser")]
fn a_rate_is_read_back_in_another_unit(
    #[case] most: &str,
    #[case] rate: &str,
    #[case] begins: &str,
    #[case] ends: &str,
) {
    let seen = Crew::at(with(&row(), "/riser_pipe/most_flow", json!(most)), "12.00")
        .flows(Choice::FlowDrawing, rate)
        .sees();
    let echo = &seen.entries.of(Key::FlowRate).unwrap().echo;
    assert!(echo.starts_with(begins) && echo.ends_with(ends), "{echo}");
}

/// Without the pipe it is said which way the display is off, and at the desk that flow would matter where any may pass.
#[rstest]
#[case::drawn(Choice::FlowDrawing, "so the display reads low;")]
#[case::filled(Choice::FlowFilling, "so the display reads high;")]
fn without_the_pipe_it_says_which_way(#[case] way: Choice, #[case] text: &str) {
    let seen = Crew::at(with(&row(), "/riser_pipe", Value::Null), "12.00").flows(way, "").sees();
    let remark = said(&seen, Step::AsFound, Doubt::RiserFlows.code()).unwrap();
    assert!(remark.text.contains(text), "{}", remark.text);
}

#[rstest]
#[case::described(
    row(),
    "The liquid stands still. At its largest usual flow, 500 US gpm, the display would be off by -4.89 in drawn out"
)]
#[case::not_described(with(&row(), "/riser_pipe", Value::Null), "The liquid stands still: flow in the riser would change what")]
#[case::dead_leg(with(&row(), "/riser_pipe", json!({ "dead_leg": true })), "No flow in the riser reaches the sensor.")]
fn at_the_desk_the_liquid_stands_still(#[case] row: Value, #[case] begins: &str) {
    let planned = domain::visit::plan(&serde_json::from_value(row).unwrap(), &[]).unwrap();
    assert!(
        planned.assumptions.iter().any(|remark| remark.text.starts_with(begins)),
        "{:?}",
        planned.assumptions
    );
}

/// Nobody spoke of a flow. A display that is 0.40 ft low may be so because up to 500 US gpm are drawn, which make 0.41 ft; 0.60 ft
/// too high is more than the 0.17 ft that the same make filled in.
#[rstest]
#[case::as_much_as_is_drawn("11.60", true)]
#[case::more_than_is_filled("12.60", false)]
fn a_flow_within_reach_may_be_what_went_wrong(#[case] display: &str, #[case] flow: bool) {
    let mut crew = Crew::at(row(), display);
    crew.chooses(Key::OffsetKnown, Choice::OffsetReadToday);
    crew.says(Key::OffsetValue, "-40.00");
    let slips = crew.sees().slips;
    let causes: Vec<&str> = slips.iter().flat_map(|slip| &slip.causes).map(|cause| cause.code).collect();
    assert_eq!(causes.contains(&"flow"), flow, "{slips:#?}");
}
