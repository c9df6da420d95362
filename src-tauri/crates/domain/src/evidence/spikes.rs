//! Readings that stand out of a series: a surge ran past while the display was read.
//!
//! A reading stands out by its modified z-score, `0.6745 |x - median| / MAD`, beyond 3.5 (Iglewicz and Hoaglin, as the
//! NIST/SEMATECH e-Handbook of Statistical Methods gives it, 1.3.5.17). A display that moves is first freed of its line, by one
//! that a few outliers do not tilt: between the medians of the first and the last third of the readings (the resistant line;
//! from memory).

use uom::si::f64::{Pressure, Time};

/// The score beyond which a reading stands out.
const STANDS_OUT: f64 = 3.5;
/// Median absolute deviation over standard deviation, of normal numbers.
const NORMAL: f64 = 0.6745;
/// Fewer readings than this show no middle to stand out of.
const FEWEST: usize = 6;
/// A reading this many of the display's last digits from the middle is no surge, however still the others stand. Common
/// practice, no source.
const DIGITS: f64 = 5.0;
/// The part of the readings that surges may be in; more are a display that goes to and fro.
const MOST: f64 = 0.25;

/// The middle of readings that have some outliers.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Spiked {
    /// The readings that do not stand out.
    pub(super) rest: Vec<(Time, Pressure)>,
    /// How many stand out.
    pub(super) count: usize,
    /// The furthest of them from the middle, with its sign.
    pub(super) furthest: Pressure,
    /// The median of all.
    pub(super) median: Pressure,
    /// The standard deviation of one, by the median absolute deviation.
    pub(super) deviation: Pressure,
}

/// Returns what stands out of a series; none where nothing does.
pub(super) fn stand_out(readings: &[(Time, Pressure)], step: Pressure) -> Option<Spiked> {
    if readings.len() < FEWEST {
        return None;
    }
    let slope = resistant_slope(readings);
    let level: Vec<f64> = readings.iter().map(|(at, shown)| shown.value - slope * at.value).collect();
    let middle = median(&level);
    let off: Vec<f64> = level.iter().map(|one| (one - middle).abs()).collect();
    let deviation = median(&off) / NORMAL;
    let bound = (STANDS_OUT * deviation).max(DIGITS * step.value.abs());
    let spikes: Vec<bool> = off.iter().map(|off| *off > bound).collect();
    let count = spikes.iter().filter(|spike| **spike).count();
    #[allow(clippy::cast_precision_loss)] // Nobody reads a display 2^52 times.
    let share = count as f64 / readings.len() as f64;
    if count == 0 || share > MOST {
        return None;
    }
    let furthest = level
        .iter()
        .map(|one| one - middle)
        .fold(0.0, |most: f64, one| if one.abs() > most.abs() { one } else { most });
    let shown: Vec<f64> = readings.iter().map(|(_, shown)| shown.value).collect();
    let pascals = Pressure::new::<uom::si::pressure::pascal>;
    Some(Spiked {
        rest: readings.iter().zip(&spikes).filter(|(_, spike)| !**spike).map(|(one, _)| *one).collect(),
        count,
        furthest: pascals(furthest),
        median: pascals(median(&shown)),
        // Where most show one and the same number, the last digit hides what they scatter.
        deviation: pascals(deviation.max(step.value.abs() / libm::sqrt(12.0))),
    })
}

/// The slope between the medians of the first and the last third, in time order.
fn resistant_slope(readings: &[(Time, Pressure)]) -> f64 {
    let mut ordered: Vec<(f64, f64)> = readings.iter().map(|(at, shown)| (at.value, shown.value)).collect();
    ordered.sort_by(|one, other| one.0.total_cmp(&other.0));
    let third = ordered.len() / 3;
    let ends = ordered.get(..third).zip(ordered.get(ordered.len() - third..));
    let Some((early, late)) = ends else { return 0.0 };
    let of = |part: &[(f64, f64)], which: fn(&(f64, f64)) -> f64| {
        median(&part.iter().map(which).collect::<Vec<f64>>())
    };
    let (time, shown) =
        (of(late, |one| one.0) - of(early, |one| one.0), of(late, |one| one.1) - of(early, |one| one.1));
    if time > 0.0 { shown / time } else { 0.0 }
}

/// The median; of nothing, nothing.
fn median(of: &[f64]) -> f64 {
    let mut ordered = of.to_vec();
    ordered.sort_by(f64::total_cmp);
    let at = |place: usize| ordered.get(place).copied().unwrap_or_default();
    let half = ordered.len() / 2;
    if ordered.len() % 2 == 1 { at(half) } else { 0.5 * (at(half.saturating_sub(1)) + at(half)) }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::pressure::pascal;
    use uom::si::time::second;

    use super::*;

    /// So much beyond 100 000 Pa, one every so many seconds.
    fn readings(every: f64, shown: &[f64]) -> Vec<(Time, Pressure)> {
        let times = (0_u32..).map(|place| Time::new::<second>(every * f64::from(place)));
        times.zip(shown.iter().map(|shown| Pressure::new::<pascal>(100_000.0 + shown))).collect()
    }

    fn near(found: f64, expected: f64) {
        assert!((found - expected).abs() < 1e-6, "{found} where {expected} was expected");
    }

    #[test]
    fn the_median_is_the_middle_or_between_the_two_middle_ones() {
        assert!((median(&[3.0, 1.0, 2.0]) - 2.0).abs() < 1e-12);
        assert!((median(&[4.0, 1.0, 3.0, 2.0]) - 2.5).abs() < 1e-12);
        assert!(median(&[]).abs() < 1e-12);
    }

    /// Nine readings of which the median is 0 and the median distance from it 10, and one more: 3.5 x 10 / 0.6745 are 51.89,
    /// five digits of 10 are 50, of 11 they are 55.
    #[rstest]
    #[case::within(51.8, 10.0, false)]
    #[case::beyond(52.0, 10.0, true)]
    #[case::below(-52.0, 10.0, true)]
    #[case::a_coarse_display(54.9, 11.0, false)]
    #[case::beyond_a_coarse_display(55.1, 11.0, true)]
    fn a_reading_stands_out_beyond_three_and_a_half_deviations_and_five_digits(
        #[case] last: f64,
        #[case] step: f64,
        #[case] stands_out: bool,
    ) {
        // Above and below in turn, so that no line leads through them.
        let shown = [10.0, -10.0, 0.0, -10.0, 10.0, 0.0, 10.0, -20.0, last, 0.0, -10.0];
        let all = readings(0.0, &shown);
        let found = stand_out(&all, Pressure::new::<pascal>(step));
        assert_eq!(found.is_some(), stands_out, "{found:?}");
        if let Some(found) = found {
            assert_eq!(found.count, 1);
            near(found.furthest.value, last);
            near(found.median.value, 100_000.0);
            near(found.deviation.value, 10.0 / 0.6745);
            assert_eq!(found.rest.len(), 10);
            assert!(found.rest.iter().all(|(_, shown)| (shown.value - 100_000.0).abs() < 21.0));
        }
    }

    #[rstest]
    // A quarter of the readings may, more may not.
    #[case::three_of_twelve(&[0.0, 0.0, 90.0, 0.0, 0.0, -80.0, 0.0, 0.0, 70.0, 0.0, 0.0, 0.0], Some((3, 90.0)))]
    #[case::three_of_eleven(&[0.0, 0.0, 90.0, 0.0, 0.0, -80.0, 0.0, 0.0, 70.0, 0.0, 0.0], None)]
    #[case::the_furthest_is_below(&[0.0, 0.0, 70.0, 0.0, 0.0, -80.0, 0.0, 0.0], Some((2, -80.0)))]
    #[case::of_two_as_far_the_first(&[0.0, 0.0, 70.0, 0.0, 0.0, -70.0, 0.0, 0.0], Some((2, 70.0)))]
    #[case::one_of_six(&[0.0, 0.0, 70.0, 0.0, 0.0, 0.0], Some((1, 70.0)))]
    #[case::one_of_five(&[0.0, 0.0, 70.0, 0.0, 0.0], None)]
    // Five digits are within what scatters, however still the others stand.
    #[case::five_digits(&[0.0, 0.0, 50.0, 0.0, 0.0, 0.0], None)]
    #[case::none(&[0.0, 10.0, 0.0, 0.0, 0.0, 0.0], None)]
    fn surges_are_few(#[case] shown: &[f64], #[case] expected: Option<(usize, f64)>) {
        let found = stand_out(&readings(0.0, shown), Pressure::new::<pascal>(10.0));
        assert_eq!(found.as_ref().map(|found| (found.count, found.furthest.value)), expected);
        // Where most show the same, the last digit hides what they scatter: 10 over the root of twelve.
        if let Some(found) = found {
            near(found.deviation.value, 2.886_751_346);
        }
    }

    #[test]
    fn a_display_that_moves_is_freed_of_its_line_in_whatever_order_it_was_written_down() {
        // 6 Pa a second, and 900 Pa less at the fifth of nine.
        let mut all = readings(10.0, &[0.0, 60.0, 120.0, 180.0, 240.0 - 900.0, 300.0, 360.0, 420.0, 480.0]);
        for _ in 0..2 {
            let found = stand_out(&all, Pressure::new::<pascal>(10.0)).unwrap();
            assert_eq!((found.count, found.rest.len()), (1, 8));
            near(found.furthest.value, -900.0);
            // The fifth of them in order: -660, 0, 60, 120, 180.
            near(found.median.value, 100_180.0);
            all.reverse();
        }
    }

    #[rstest]
    // Squares of the seconds: of nine the thirds have 1 and 7 in their middle, 1 and 49; of ten 1 and 8, 1 and 64.
    #[case::nine(9, 48.0 / 6.0)]
    #[case::ten(10, 63.0 / 7.0)]
    // Of two there is no third.
    #[case::two(2, 0.0)]
    fn the_line_leads_through_the_middles_of_the_first_and_last_third(
        #[case] count: u32,
        #[case] slope: f64,
    ) {
        let squares: Vec<f64> = (0..count).map(|at| f64::from(at * at)).collect();
        near(resistant_slope(&readings(1.0, &squares)), slope);
    }
}
