//! Display readings in a row.
//!
//! Numbers are invented for the case and worked out by hand where they are used.

use rstest::rstest;
use uom::si::f64::{Pressure, Time};
use uom::si::time::{minute, second};

use super::tower::{near, pascals};
use crate::evidence::{EvidenceError, Series, Spread};

fn readings(every: f64, shown: &[f64]) -> Vec<(Time, Pressure)> {
    let at = |place: usize| Time::new::<second>(every * f64::from(u32::try_from(place).unwrap()));
    shown.iter().enumerate().map(|(place, shown)| (at(place), pascals(*shown))).collect()
}

fn series(every: f64, shown: &[f64], damping: f64) -> Series {
    Series::of(&readings(every, shown), pascals(10.0), Time::new::<second>(damping)).unwrap()
}

fn standard(series: &Series) -> (f64, f64) {
    match series.spread {
        Spread::Repeats { standard, freedom } => (standard.value, freedom),
        _ => panic!("repeats"),
    }
}

#[rstest]
fn a_display_that_stands_still_gives_its_mean() {
    // Mean 100 010; deviations 0, 10, -10, 0, 0: 200 / 4 = 50, s = 7.0711, over the root of five 3.1623.
    let seen = series(10.0, &[100_010.0, 100_020.0, 100_000.0, 100_010.0, 100_010.0], 0.0);
    near(seen.value.value, 100_010.0, 1e-9);
    near(seen.deviation.value, 50.0_f64.sqrt(), 1e-9);
    near(standard(&seen).0, 10.0_f64.sqrt(), 1e-9);
    near(standard(&seen).1, 4.0, 1e-12);
    near(seen.range.value, 20.0, 1e-9);
    assert!(!seen.moves && seen.count == 5);
}

#[rstest]
fn a_display_that_moves_gives_its_line_at_the_last_reading() {
    // 60 Pa in every 10 s, with +-1 around it: slope 6 Pa/s, 360 Pa a minute.
    let seen = series(10.0, &[99_999.0, 100_061.0, 100_119.0, 100_181.0, 100_239.0, 100_301.0], 0.0);
    assert!(seen.moves);
    let drift = seen.drift.unwrap();
    // Slope by hand: times -25 to 25, their squares add up to 1750; products with the readings to 10 530.
    near(drift.over(Time::new::<second>(1.0)).value, 10_530.0 / 1750.0, 1e-9);
    near(drift.over(Time::new::<minute>(1.0)).value, 10_530.0 / 1750.0 * 60.0, 1e-7);
    near(seen.value.value, 100_150.0 + 10_530.0 / 1750.0 * 25.0, 1e-6);
    near(seen.at.value, 50.0, 1e-12);
    // Squares of the readings about their mean add up to 63 366; the line leaves 63 366 - 10 530^2 / 1750 = 5.485 71, over
    // 6 - 2 = 1.371 43. Of the mean that is a sixth; of the slope 1.371 43 / 1750, carried 25 s ahead times 25^2.
    near(seen.deviation.value, 1.371_43_f64.sqrt(), 1e-5);
    near(standard(&seen).0, (1.371_43_f64 / 6.0 + 1.371_43 / 1750.0 * 625.0).sqrt(), 1e-5);
    near(standard(&seen).1, 4.0, 1e-12);
}

#[rstest]
// Scatter alone, and a drift under two digits of the display, are none.
#[case::scatter(&[100_000.0, 100_300.0, 99_900.0, 100_200.0, 100_000.0])]
#[case::under_two_digits(&[100_000.0, 100_004.0, 100_008.0, 100_012.0, 100_016.0])]
#[case::three_are_too_few(&[100_000.0, 100_100.0, 100_200.0])]
fn not_everything_that_differs_moves(#[case] shown: &[f64]) {
    assert!(!series(10.0, shown, 0.0).moves);
}

#[rstest]
fn damped_readings_count_for_fewer() {
    let shown = [100_010.0, 100_020.0, 100_000.0, 100_010.0, 100_010.0];
    // 10 s apart under a damping of 10 s: a = 1/e, 5 (1 - a) / (1 + a) = 2.3106 readings.
    let seen = series(10.0, &shown, 10.0);
    near(standard(&seen).0, (50.0_f64 / 2.310_585_786_300_049).sqrt(), 1e-9);
    near(standard(&seen).1, 1.310_585_786_300_049, 1e-9);
    // So close together that they are one and the same.
    near(standard(&series(0.001, &shown, 30.0)).0, 50.0_f64.sqrt(), 1e-9);
}

#[rstest]
fn one_reading_is_no_series_and_no_number_is_none() {
    let of = |readings: &[(Time, Pressure)]| Series::of(readings, pascals(10.0), Time::default());
    assert_eq!(of(&readings(1.0, &[1.0])).unwrap_err(), EvidenceError::NoRepeats);
    assert!(matches!(of(&readings(1.0, &[1.0, f64::NAN])).unwrap_err(), EvidenceError::NotANumber { .. }));
}

#[rstest]
fn surges_stand_out_and_the_median_stands_for_the_rest() {
    // Two of ten ran up with a surge. In order: 99 990, 100 000 three times, 100 010 twice, 100 020 twice, and the two: the
    // median is 100 010, and the distances from it 0, 0, 10 (five times), 20, 390, 1190: their median is 10, over 0.6745 14.83.
    let shown = [
        100_000.0, 100_010.0, 101_200.0, 100_020.0, 100_000.0, 99_990.0, 100_400.0, 100_010.0, 100_000.0,
        100_020.0,
    ];
    let mut still = readings(10.0, &shown);
    // All at a time that tells no line.
    still.iter_mut().for_each(|one| one.0 = Time::default());
    let seen = Series::of(&still, pascals(10.0), Time::default()).unwrap();
    assert!(!seen.moves);
    assert_eq!((seen.count, seen.spikes), (10, 2));
    near(seen.value.value, 100_010.0, 1e-9);
    near(seen.furthest.value, 1190.0, 1e-9);
    near(seen.range.value, 1210.0, 1e-9);
    near(seen.deviation.value, 10.0 / 0.6745, 1e-9);
    near(standard(&seen).0, 1.2533 * 10.0 / 0.6745 / 10.0_f64.sqrt(), 1e-6);
    near(standard(&seen).1, 9.0, 1e-12);
}

#[rstest]
fn a_surge_on_a_moving_display_is_left_out_of_its_line() {
    // 60 Pa in every 10 s, with +-1 around it, and 900 Pa more at the fourth: the line is that of the other eleven.
    let clean = |place: i32| 100_000.0 + 60.0 * f64::from(place) + if place % 2 == 0 { 1.0 } else { -1.0 };
    let mut shown: Vec<f64> = (0..12).map(clean).collect();
    shown[3] += 900.0;
    let seen = series(10.0, &shown, 0.0);
    assert!(seen.moves);
    assert_eq!((seen.count, seen.spikes), (12, 1));
    let others: Vec<(Time, Pressure)> = readings(10.0, &shown)
        .into_iter()
        .enumerate()
        .filter(|(place, _)| *place != 3)
        .map(|(_, one)| one)
        .collect();
    let alone = Series::of(&others, pascals(10.0), Time::default()).unwrap();
    near(seen.value.value, alone.value.value, 1e-9);
    near(seen.value.value, clean(11), 2.0);
}

#[rstest]
// Five readings, a display that goes to and fro, and what is but a few of its digits away are no surges.
#[case::too_few(&[100_000.0, 100_010.0, 100_000.0, 100_010.0, 101_000.0])]
#[case::to_and_fro(&[100_000.0, 100_900.0, 100_000.0, 100_900.0, 100_000.0, 100_010.0])]
#[case::a_few_digits(&[100_000.0, 100_000.0, 100_000.0, 100_000.0, 100_000.0, 100_040.0])]
fn not_everything_that_stands_apart_is_a_surge(#[case] shown: &[f64]) {
    let seen = series(10.0, shown, 0.0);
    assert_eq!(seen.spikes, 0);
}

#[rstest]
fn how_fast_a_display_moves_is_known_as_well_as_its_line() {
    // As above: 5.485 71 left of squares over 4, and 1750 of times: the root of 1.371 43 / 1750, or 27.994 mPa a second.
    let seen = series(10.0, &[99_999.0, 100_061.0, 100_119.0, 100_181.0, 100_239.0, 100_301.0], 0.0);
    let drift = seen.drift.unwrap();
    near(drift.standard_over(Time::new::<minute>(1.0)).value, 60.0 * 0.027_994, 1e-4);
    near(drift.standard_over(Time::new::<minute>(-1.0)).value, 60.0 * 0.027_994, 1e-4);
}

#[rstest]
fn two_readings_are_the_fewest() {
    // Mean 100 010, deviation 10 times the root of two, of the mean 10.
    let seen = series(10.0, &[100_000.0, 100_020.0], 0.0);
    near(seen.value.value, 100_010.0, 1e-9);
    near(seen.at.value, 5.0, 1e-12);
    near(standard(&seen).0, 10.0, 1e-9);
    assert!(!seen.moves && seen.drift.is_none());
}

#[rstest]
// 0.1 Pa a second with +-a around it, up, down, down, up and so on: times -35 to 35 s in steps of 10 have squares of 4200,
// and nothing in common with that pattern; 8 a^2 over 6 and 4200 leave a doubt of a / 56.125.
#[case::beyond_doubt(1.87, true)]
#[case::in_doubt(1.88, false)]
fn a_drift_must_be_three_times_its_doubt(#[case] around: f64, #[case] moves: bool) {
    let pattern = [1.0, -1.0, -1.0, 1.0, -1.0, 1.0, 1.0, -1.0];
    let shown: Vec<f64> =
        pattern.iter().zip(0_u32..).map(|(one, at)| 100_000.0 + f64::from(at) + around * one).collect();
    let seen = Series::of(&readings(10.0, &shown), pascals(0.01), Time::default()).unwrap();
    near(seen.drift.unwrap().over(Time::new::<second>(1.0)).value, 0.1, 1e-9);
    assert_eq!(seen.moves, moves);
}

#[rstest]
// Half a pascal a second for 40 s is two digits of 10 Pa, and no more.
#[case::two_digits(&[100_000.0, 100_005.0, 100_010.0, 100_015.0, 100_020.0], false)]
#[case::more(&[100_000.0, 100_006.0, 100_012.0, 100_018.0, 100_024.0], true)]
#[case::four_are_enough(&[100_000.0, 100_010.0, 100_020.0, 100_030.0], true)]
fn a_drift_must_pass_two_digits(#[case] shown: &[f64], #[case] moves: bool) {
    assert_eq!(series(10.0, shown, 0.0).moves, moves);
}

#[rstest]
fn only_the_time_between_readings_counts_for_the_damping() {
    let mut later = readings(10.0, &[100_010.0, 100_020.0, 100_000.0, 100_010.0, 100_010.0]);
    later.iter_mut().for_each(|(at, _)| *at += Time::new::<second>(500.0));
    let seen = Series::of(&later, pascals(10.0), Time::new::<second>(10.0)).unwrap();
    near(standard(&seen).1, 1.310_585_786_300_049, 1e-9);
    near(seen.at.value, 520.0, 1e-9);
}
