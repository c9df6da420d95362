//! Tests of ranging. Numbers are worked out by hand beside each case; published examples stand in the suite of
//! reference tests.

use proptest::prelude::*;
use rstest::rstest;
use uom::si::acceleration::meter_per_second_squared;
use uom::si::electric_current::milliampere;
use uom::si::f64::{
    Acceleration, ElectricCurrent, Length, MassDensity, Pressure, Ratio, TemperatureCoefficient,
    ThermodynamicTemperature,
};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::{kilopascal, pascal};
use uom::si::ratio::ratio;
use uom::si::thermodynamic_temperature::degree_celsius;

use super::*;
use crate::head::mounting::{Installed, Mounting, State, Vessel};
use crate::head::{Gradient, Liquid, Surroundings};
use crate::visit::Choice;

const WATER: Gradient = Gradient::CONVENTIONAL_WATER;

fn kpa(value: f64) -> Pressure {
    Pressure::new::<kilopascal>(value)
}

fn ma(value: f64) -> ElectricCurrent {
    ElectricCurrent::new::<milliampere>(value)
}

fn metres(value: f64) -> Length {
    Length::new::<meter>(value)
}

fn sensor() -> Sensor {
    Sensor {
        lrl: kpa(-100.0),
        url: kpa(250.0),
        min_span: kpa(12.5),
        max_working: kpa(1000.0),
        trim_limit: Some(kpa(200.0)),
    }
}

fn direct(lrv: f64, urv: f64) -> Range {
    Range::new(kpa(lrv), kpa(urv), Action::Direct).unwrap()
}

fn judged(range: &Range, total: Option<Pressure>, highest: Option<Pressure>) -> Vec<Judged> {
    sensor().judge(range, total, highest).into_iter().map(|judgement| judgement.judged).collect()
}

use Judged::{Broken, Holds, NotJudged};

#[test]
fn one_judgement_for_each_rule_in_one_order() {
    let rules: Vec<_> =
        sensor().judge(&direct(0.0, 80.0), None, None).iter().map(|judgement| judgement.rule).collect();
    use LimitRule::{LowerEnd, MinimumSpan, TrimLimit, UpperEnd, WorkingPressure};
    assert_eq!(rules, [LowerEnd, UpperEnd, TrimLimit, MinimumSpan, WorkingPressure]);
}

#[rstest]
// Trimmed by -140: the sensor feels 140 to 220 of 250.
#[case::fits(0.0, 80.0, Some(-140.0), Some(230.0), [Holds, Holds, Holds, Holds, Holds])]
// Trimmed by -180: it would have to feel 260.
#[case::too_high(0.0, 80.0, Some(-180.0), Some(230.0), [Holds, Broken, Holds, Holds, Holds])]
#[case::exactly_at_the_url(0.0, 80.0, Some(-170.0), Some(250.0), [Holds, Holds, Holds, Holds, Holds])]
#[case::too_low(0.0, 80.0, Some(150.0), Some(230.0), [Broken, Holds, Holds, Holds, Holds])]
#[case::trim_too_large(100.0, 180.0, Some(201.0), Some(230.0), [Broken, Holds, Broken, Holds, Holds])]
#[case::span_too_small(0.0, 12.0, Some(-140.0), Some(230.0), [Holds, Holds, Holds, Broken, Holds])]
#[case::surge(0.0, 80.0, Some(-140.0), Some(1100.0), [Holds, Holds, Holds, Holds, Broken])]
fn limits_are_judged_by_the_total(
    #[case] lrv: f64,
    #[case] urv: f64,
    #[case] total: Option<f64>,
    #[case] highest: Option<f64>,
    #[case] expected: [Judged; 5],
) {
    assert_eq!(judged(&direct(lrv, urv), total.map(kpa), highest.map(kpa)), expected);
}

#[test]
fn what_is_not_known_is_not_judged_and_never_zero() {
    let found = judged(&direct(0.0, 80.0), None, None);
    let offset = NotJudged(Unknown::Offset);
    assert_eq!(found, [offset, offset, offset, Holds, NotJudged(Unknown::WorkingPressure)]);
    let free = Sensor { trim_limit: None, ..sensor() };
    let trim = free.judge(&direct(0.0, 80.0), Some(kpa(-500.0)), None)[2];
    assert_eq!(trim.judged, NotJudged(Unknown::TrimLimit));
    assert_eq!(total_offset(None, kpa(-140.0)), None);
}

#[test]
fn a_judgement_says_what_was_found_and_what_is_allowed() {
    let show = |pressure: Pressure| format!("{:.0} kPa", pressure.get::<kilopascal>());
    let all = sensor().judge(&direct(0.0, 80.0), Some(kpa(-180.0)), None);
    let sentences: Vec<_> = all.iter().map(|judgement| judgement.sentence(show)).collect();
    assert_eq!(sentences[0], "What the sensor feels at the LRV is 180 kPa; -100 kPa to 250 kPa is allowed.");
    assert_eq!(
        sentences[1],
        "What the sensor feels at the URV is 260 kPa; -100 kPa to 250 kPa is allowed. That is outside."
    );
    assert_eq!(sentences[2], "The total offset is -180 kPa; -200 kPa to 200 kPa is allowed.");
    assert_eq!(sentences[3], "The span is 80 kPa; 12 kPa is the least.");
    assert_eq!(sentences[4], "The highest working pressure is not judged: the overflow level is not known.");
}

#[test]
fn a_judgement_with_one_limit_or_none_says_so() {
    let show = |pressure: Pressure| format!("{:.0} kPa", pressure.get::<kilopascal>());
    let all = sensor().judge(&direct(0.0, 80.0), Some(kpa(0.0)), Some(kpa(1100.0)));
    assert_eq!(
        all[4].sentence(show),
        "The highest working pressure is 1100 kPa; 1000 kPa is the most. That is outside."
    );
    let free = Sensor { trim_limit: None, ..sensor() };
    let all = free.judge(&direct(0.0, 80.0), None, None);
    let offset = "is not judged: the offset the unit carries is not known; read it on the unit.";
    assert_eq!(all[0].sentence(show), format!("What the sensor feels at the LRV {offset}"));
    let said = "The total offset is not judged: no trim limit is stated in the register.";
    assert_eq!(all[2].sentence(show), said);
    assert_eq!(total_offset(Some(kpa(-140.0)), kpa(3.0)), Some(kpa(-137.0)));
}

/// A limit of 250 kPa gives way by a tenth of a pascal and a billionth of itself, 0.25 mPa; no further. So does the LRL.
#[rstest]
#[case::urv_reached(170_000.0 + 0.09, 0, 1, true)]
#[case::urv_passed(170_000.0 + 0.11, 0, 1, false)]
#[case::lrv_reached(-100_000.0 - 0.09, 0, 0, true)]
#[case::lrv_passed(-100_000.0 - 0.11, 0, 0, false)]
fn the_last_digits_of_a_limit_do_not_decide(
    #[case] lrv: f64,
    #[case] total: i32,
    #[case] rule: usize,
    #[case] holds: bool,
) {
    let lrv = Pressure::new::<pascal>(lrv);
    let range = Range::new(lrv, lrv + kpa(80.0), Action::Direct).unwrap();
    let found = judged(&range, Some(kpa(f64::from(total))), None);
    assert_eq!(found[rule] == Holds, holds, "{found:?}");
}

#[test]
fn each_rule_has_a_word_of_its_own() {
    let all = sensor().judge(&direct(0.0, 80.0), None, None);
    let codes: Vec<_> = all.iter().map(|judgement| judgement.rule.code()).collect();
    let expected =
        ["limit.lower_end", "limit.upper_end", "limit.trim", "limit.min_span", "limit.working_pressure"];
    assert_eq!(codes, expected);
}

#[test]
fn a_range_needs_two_ends() {
    assert_eq!(Range::new(kpa(5.0), kpa(5.0), Action::Direct), Err(RangingError::NoSpan));
    let nan = Range::new(kpa(f64::NAN), kpa(5.0), Action::Direct);
    assert!(matches!(nan, Err(RangingError::NotANumber { .. })));
}

#[rstest]
#[case::just_failed(3.6, Band::FailureLow)]
#[case::just_above(3.600_1, Band::GapLow)]
#[case::first_measured(3.8, Band::UnderRange)]
#[case::zero(4.0, Band::InRange)]
#[case::full(20.0, Band::InRange)]
#[case::last_measured(20.5, Band::OverRange)]
#[case::gap(20.500_1, Band::GapHigh)]
#[case::failed_high(21.0, Band::FailureHigh)]
#[case::open_loop(0.0, Band::FailureLow)]
#[case::not_a_number(f64::NAN, Band::FailureLow)]
fn bands_meet_at_their_limits(#[case] current: f64, #[case] band: Band) {
    assert_eq!(Band::of(ma(current)), band);
}

/// Conventional water in vacuum over a riser: 9806.65 Pa a metre.
fn tank(riser: f64, span: f64) -> Installed {
    let cold = ThermodynamicTemperature::new::<degree_celsius>(4.0);
    let water = MassDensity::new::<kilogram_per_cubic_meter>(1000.0);
    let process = Liquid::other(water, cold, TemperatureCoefficient::default()).unwrap();
    let around = Surroundings {
        gravity: Acceleration::new::<meter_per_second_squared>(9.80665),
        atmosphere: kpa(101.325),
        air: MassDensity::default(),
    };
    let vessel = Vessel { process, vapour: None, span: metres(span) };
    Mounting::open(metres(riser)).install(&vessel, &State::at(&around, cold)).unwrap()
}

fn cold_ash() -> Installed {
    tank(14.62, 7.8)
}

#[test]
fn both_ways_show_the_control_room_the_level_and_only_one_shows_it_on_the_display() {
    let [trimmed, raw] = ways(&cold_ash(), Action::Direct, kpa(0.3)).unwrap();
    // 14.62 m and 7.80 m of 9.80665 kPa each: 143.373 and 76.492 kPa
    let near =
        |one: Pressure, other: f64| assert!((one.get::<kilopascal>() - other).abs() < 0.001, "{one:?}");
    near(trimmed.range.lrv(), 0.0);
    near(trimmed.range.urv(), 76.492);
    near(trimmed.offset, -143.673);
    near(raw.range.lrv(), 143.373);
    near(raw.range.urv(), 219.865);
    near(raw.offset, -0.3);
    for (plan, riser) in [(trimmed, 0.0), (raw, 143.373)] {
        for (point, part) in plan.points.iter().zip([0.0, 0.25, 0.5, 0.75, 1.0]) {
            near(point.display, riser + 76.492 * part);
            assert!((point.current.get::<milliampere>() - (4.0 + 16.0 * part)).abs() < 1e-9);
            assert!((point.control_room.get::<meter>() - 7.8 * part).abs() < 1e-9);
            assert!((point.level.get::<meter>() - 7.8 * part).abs() < 1e-9);
        }
    }
}

#[test]
fn reversed_the_empty_tank_sends_twenty() {
    let [trimmed, _] = ways(&cold_ash(), Action::Reverse, kpa(0.0)).unwrap();
    assert!((trimmed.points[0].current.get::<milliampere>() - 20.0).abs() < 1e-9);
    assert!((trimmed.points[4].current.get::<milliampere>() - 4.0).abs() < 1e-9);
}

/// 4 mA and 16 mA of span: a quarter is 8 mA or 16 mA, an open loop is a quarter below.
#[test]
fn a_range_tells_its_ends_and_moves_as_a_whole() {
    let range = direct(20.0, 100.0).moved(kpa(5.0));
    assert_eq!((range.lrv(), range.urv(), range.action()), (kpa(25.0), kpa(105.0), Action::Direct));
    assert!((range.span() - kpa(80.0)).abs() < kpa(1e-9));
    assert!((range.value(ma(8.0)) - kpa(45.0)).abs() < kpa(1e-9));
    assert!((fraction_at(ma(0.0), Action::Direct).get::<ratio>() + 0.25).abs() < 1e-12);
    let close = |pascals: f64| {
        Range::new(kpa(5.0), kpa(5.0) + Pressure::new::<pascal>(pascals), Action::Direct).is_ok()
    };
    assert!(close(0.002) && close(-0.002) && !close(0.0005) && !close(-0.0005));
    let endless = Range::new(kpa(5.0), kpa(f64::INFINITY), Action::Direct);
    assert!(matches!(endless, Err(RangingError::NotANumber { .. })));
}

#[rstest]
#[case(
    3.0,
    "current.failure_low",
    "Failure signal, low (3.6 mA or less), or an open loop: not a level.",
    false
)]
#[case(
    3.7,
    "current.gap_low",
    "Between failure and measuring (3.6 to 3.8 mA): nothing is defined there.",
    false
)]
#[case(3.9, "current.under_range", "Measuring, below the range (3.8 to 4 mA).", true)]
#[case(12.0, "current.in_range", "Measuring.", true)]
#[case(20.2, "current.over_range", "Measuring, above the range (20 to 20.5 mA).", true)]
#[case(
    20.7,
    "current.gap_high",
    "Between measuring and failure (20.5 to 21 mA): nothing is defined there.",
    false
)]
#[case(21.5, "current.failure_high", "Failure signal, high (21 mA or more): not a level.", false)]
fn a_band_says_what_it_means(
    #[case] current: f64,
    #[case] code: &str,
    #[case] says: &str,
    #[case] measures: bool,
) {
    let band = Band::of(ma(current));
    assert_eq!((band.code(), band.says(), band.measures()), (code, says, measures));
}

/// What presses on the low side decides the sign as well as the height, so it is said.
#[test]
fn a_leg_on_the_low_side_is_said_with_the_sign() {
    let cold = ThermodynamicTemperature::new::<degree_celsius>(20.0);
    let oil = MassDensity::new::<kilogram_per_cubic_meter>(940.0);
    let fill = Liquid::other(oil, cold, TemperatureCoefficient::default()).unwrap();
    let (riser, top, tap) = (metres(0.5), metres(2.5), metres(0.0));
    let wet = zero_wording(kpa(-23.0), &Mounting::WetLeg { riser, top, fill });
    let below = "negative LRV: the transmitter stands below the tank's zero";
    assert!(
        wet.starts_with(&format!("{below} and a full leg presses on its low side; an elevated")),
        "{wet}"
    );
    let seals = zero_wording(kpa(-23.0), &Mounting::TwoSeals { riser, tap, top, fill });
    let cancels = " (which cancels) and the upper capillary presses on its low side; an elevated zero";
    assert!(seals.starts_with(&format!("{below}{cancels}")), "{seals}");
    let dry = zero_wording(kpa(5.0), &Mounting::DryLeg { riser, top });
    assert!(
        dry.starts_with("positive LRV: the transmitter stands below the tank's zero; a suppressed"),
        "{dry}"
    );
    let level = zero_wording(kpa(0.0), &Mounting::open(metres(0.0)));
    assert_eq!(
        level,
        "LRV at zero: the transmitter stands at the tank's zero; neither suppression nor elevation"
    );
}

#[test]
fn the_sign_stands_beside_both_words() {
    let below = zero_wording(kpa(143.0), &Mounting::open(metres(14.62)));
    assert!(
        below.starts_with("positive LRV: the transmitter stands below the tank's zero; a suppressed zero")
    );
    let above = zero_wording(kpa(-24.5), &Mounting::open(metres(-2.5)));
    assert!(
        above.starts_with("negative LRV: the transmitter stands above the tank's zero; an elevated zero")
    );
    assert!(zero_wording(kpa(0.0), &Mounting::open(metres(0.0))).contains("neither"));
}

/// Cold Ash at 3 m: 29.42 kPa of level, 143.373 kPa of standing head, 76.492 kPa of span.
fn question() -> HeadQuestion {
    let (level, head) = (29.42, 143.373);
    HeadQuestion {
        carried: Some(kpa(-head)),
        range: direct(0.0, 76.492),
        standing_head: kpa(head),
        tank_gradient: WATER,
        span: metres(7.8),
        display: Some(kpa(level)),
        current: None,
        control_room: Some(metres(3.0)),
    }
}

fn raw_display() -> HeadQuestion {
    HeadQuestion { carried: Some(kpa(0.0)), display: Some(kpa(29.42 + 143.373)), ..question() }
}

#[rstest]
#[case::offset(question(), Choice::HeadInOffset)]
#[case::offset_and_a_zero_error(HeadQuestion { carried: Some(kpa(-144.5)), ..question() }, Choice::HeadInOffset)]
#[case::range(HeadQuestion { range: direct(143.373, 219.865), ..raw_display() }, Choice::HeadInRange)]
#[case::range_without_control_room(HeadQuestion { range: direct(143.373, 219.865), control_room: None, ..raw_display() }, Choice::HeadInRange)]
#[case::twice(HeadQuestion { range: direct(143.373, 219.865), control_room: None, ..question() }, Choice::HeadTwice)]
#[case::offset_and_control_room(HeadQuestion { control_room: Some(metres(3.0 - 14.62)), ..question() }, Choice::HeadTwice)]
#[case::control_room(HeadQuestion { range: direct(0.0, 219.865), ..raw_display() }, Choice::HeadInControlRoom)]
#[case::nowhere(HeadQuestion { range: direct(0.0, 219.865), control_room: Some(metres(17.62)), ..raw_display() }, Choice::HeadNowhere)]
#[case::nothing_to_compare(HeadQuestion { range: direct(0.0, 219.865), control_room: None, ..raw_display() }, Choice::HeadNotSettled)]
#[case::odd_offset(HeadQuestion { carried: Some(kpa(-70.0)), ..question() }, Choice::HeadNotSettled)]
#[case::odd_range(HeadQuestion { range: direct(70.0, 150.0), ..question() }, Choice::HeadNotSettled)]
#[case::odd_control_room(HeadQuestion { range: direct(0.0, 219.865), control_room: Some(metres(9.0)), ..raw_display() }, Choice::HeadNotSettled)]
// The offset unknown: a display of 3 m cannot have 14.62 m of riser in it, one of 17.62 m must.
#[case::seen_on_the_display(HeadQuestion { carried: None, ..question() }, Choice::HeadInOffset)]
#[case::seen_raw_on_the_display(HeadQuestion { carried: None, range: direct(143.373, 219.865), ..raw_display() }, Choice::HeadInRange)]
#[case::offset_and_display_unknown(HeadQuestion { carried: None, display: None, control_room: None, ..question() }, Choice::HeadNotSettled)]
// The offset is in doubt and the control room takes the head out, or the range is, or only the range takes it out.
#[case::odd_offset_and_control_room(HeadQuestion { carried: Some(kpa(-70.0)), range: direct(0.0, 219.865), ..raw_display() }, Choice::HeadNotSettled)]
#[case::odd_range_and_control_room(HeadQuestion { range: direct(70.0, 150.0), control_room: Some(metres(-4.138)), ..raw_display() }, Choice::HeadNotSettled)]
#[case::odd_offset_and_range(HeadQuestion { carried: Some(kpa(-70.0)), range: direct(143.373, 219.865), control_room: None, ..raw_display() }, Choice::HeadNotSettled)]
// A tenth of the standing head is 14.3 kPa: a display may lie so far below zero or above the span of 76.5 kPa.
#[case::a_little_below_zero(HeadQuestion { carried: None, display: Some(kpa(-10.0)), control_room: None, ..question() }, Choice::HeadInOffset)]
#[case::a_little_above_the_span(HeadQuestion { carried: None, display: Some(kpa(85.0)), control_room: None, ..question() }, Choice::HeadInOffset)]
#[case::neither_here_nor_there(HeadQuestion { carried: None, display: Some(kpa(110.0)), control_room: None, ..question() }, Choice::HeadNotSettled)]
fn suggests_where_the_standing_head_goes(#[case] question: HeadQuestion, #[case] choice: Choice) {
    let place = question.suggest();
    assert_eq!(place.choice, choice, "{:?}", place.reasons);
    assert!(!place.reasons.is_empty());
}

/// Raw, the loop carries 172.793 kPa of a range from 143.373: 29.42 kPa, which are the 3 m that the control room sees.
#[test]
fn the_reasons_name_each_place_that_was_looked_at() {
    let raw = HeadQuestion { range: direct(143.373, 219.865), ..raw_display() };
    let expected = [
        "The offset the unit carries is near zero: it leaves the standing head in.",
        "The LRV stands at the standing head.",
        "The control room sees what the loop carries: it takes nothing out.",
    ];
    assert_eq!(raw.suggest().reasons, expected);
    let nobody_knows = HeadQuestion { standing_head: kpa(f64::NAN), ..question() }.suggest();
    assert!(nobody_knows.reasons[0].contains("too little for the numbers to tell"), "{nobody_knows:?}");
}

#[test]
fn a_short_riser_under_a_tall_tank_hides_behind_an_unknown_offset() {
    // A riser of 2 m under 7.8 m: a display of 3 m could be either.
    let question = HeadQuestion {
        carried: None,
        standing_head: kpa(19.613),
        display: Some(kpa(29.42)),
        control_room: None,
        ..question()
    };
    let place = question.suggest();
    assert_eq!(place.choice, Choice::HeadNotSettled);
    assert_eq!(place.reasons.last().unwrap(), "Read the offset on the unit to settle it.");
}

#[test]
fn a_riser_too_short_to_tell_is_not_settled_by_numbers() {
    // 2 kPa under a tank of 76.49 kPa is 2.6 %: an offset that fits it is no proof.
    let question = HeadQuestion { standing_head: kpa(2.0), carried: Some(kpa(-2.0)), ..question() };
    let place = question.suggest();
    assert_eq!(place.choice, Choice::HeadNotSettled);
    assert!(place.reasons[0].contains("less than 5 % of the span"), "{:?}", place.reasons);
}

#[test]
fn a_transmitter_above_the_tanks_zero_pulls() {
    // 2.5 m above: B = -24.517 kPa, taken out by an offset of +24.517.
    let question = HeadQuestion { standing_head: kpa(-24.517), carried: Some(kpa(24.517)), ..question() };
    assert_eq!(question.suggest().choice, Choice::HeadInOffset);
}

proptest! {
    /// One tower, trimmed once from a unit that carried nothing and once from a unit that already carried some
    /// offset: the display reads differently, the shift differs, the judgement must not.
    #[test]
    fn the_judgement_does_not_depend_on_the_history_of_trims(
        zero_error in -3.0..3.0_f64,
        riser in -5.0..40.0_f64,
        span in 2.0..20.0_f64,
        level in 0.0..1.0_f64,
        carried in -250.0..250.0_f64,
    ) {
        let tank = tank(riser, span);
        let range = Range::new(kpa(0.0), WATER.pressure(metres(span)), Action::Direct).unwrap();
        let level = metres(level * span);
        let from = |carried: f64| {
            // r = z + c + B + kL; the shift makes the display read kL.
            let display = kpa(zero_error) + kpa(carried) + tank.pressure_at(level);
            let shift = WATER.pressure(level) - display;
            let highest = tank.pressure_at(tank.span());
            sensor().judge(&range, total_offset(Some(kpa(carried)), shift), Some(highest))
        };
        let (fresh, again) = (from(0.0), from(carried));
        for (one, other) in fresh.iter().zip(&again) {
            let close = one.found.unwrap() - other.found.unwrap();
            prop_assert!(close.abs().get::<pascal>() < 1e-6);
            // Right at a limit the last digit may fall on either side of the slack; nowhere else.
            let near_limit = [one.least, one.most].iter().flatten().any(|limit| {
                ((*limit - one.found.unwrap()).abs().get::<pascal>() - 0.1).abs() < 0.01
            });
            prop_assert!(near_limit || one.judged == other.judged);
        }
    }

    #[test]
    fn currents_and_values_go_there_and_back(lrv in -200.0..200.0_f64, span in 1.0..500.0_f64, part in -0.3..1.3_f64) {
        for action in [Action::Direct, Action::Reverse] {
            for range in [Range::new(kpa(lrv), kpa(lrv + span), action), Range::new(kpa(lrv + span), kpa(lrv), action)] {
                let range = range.unwrap();
                let value = kpa(lrv + span * part);
                prop_assert!((range.value(range.current(value)) - value).abs().get::<pascal>() < 1e-6);
                let fraction = fraction_at(current_at(Ratio::new::<ratio>(part), action), action);
                prop_assert!((fraction.get::<ratio>() - part).abs() < 1e-12);
            }
        }
    }

    #[test]
    fn swapping_the_ends_is_the_other_action(lrv in -200.0..200.0_f64, span in 1.0..500.0_f64, part in -0.3..1.3_f64) {
        let swapped = Range::new(kpa(lrv + span), kpa(lrv), Action::Direct).unwrap();
        let reversed = Range::new(kpa(lrv), kpa(lrv + span), Action::Reverse).unwrap();
        let value = kpa(lrv + span * part);
        prop_assert!((swapped.current(value) - reversed.current(value)).abs().get::<milliampere>() < 1e-9);
    }

    #[test]
    fn a_tank_tells_its_level_back(riser in -5.0..40.0_f64, level in -1.0..20.0_f64) {
        let tank = tank(riser, 7.8);
        let back = tank.level_at(tank.pressure_at(metres(level)));
        prop_assert!((back.get::<meter>() - level).abs() < 1e-10);
    }

    /// Whatever is put in, one of the six answers comes out, and taken out once it is never called twice.
    #[test]
    fn a_clean_trim_is_never_called_twice(riser in 3.0..40.0_f64, part in 0.0..1.0_f64) {
        let tank = tank(riser, 7.8);
        let level = tank.span() * part;
        let base = HeadQuestion { standing_head: tank.standing_head(), ..question() };
        let trimmed = HeadQuestion {
            carried: Some(-tank.standing_head()),
            display: Some(WATER.pressure(level)),
            control_room: Some(level),
            ..base
        };
        prop_assert_eq!(trimmed.suggest().choice, Choice::HeadInOffset);
        let raw = HeadQuestion {
            carried: Some(kpa(0.0)),
            range: base.range.moved(tank.standing_head()),
            display: Some(tank.pressure_at(level)),
            control_room: Some(level),
            ..base
        };
        prop_assert_eq!(raw.suggest().choice, Choice::HeadInRange);
    }
}
