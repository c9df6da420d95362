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
