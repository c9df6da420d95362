//! Repeated dips.
//!
//! Numbers are invented for the case and worked out by hand where they are used; published values stand in
//! `tests/suite/reference`.

use rstest::rstest;

use super::tower::{metres, near};
use crate::evidence::{EvidenceError, Repeat, Repeats, Spread, Together};

fn dips(lengths: &[f64]) -> Vec<Repeat> {
    lengths.iter().map(|length| Repeat::counting(metres(*length))).collect()
}

#[rstest]
fn a_repeat_set_aside_stays_out_of_the_mean_and_is_counted() {
    let mut repeats = dips(&[5.203, 5.206, 6.204, 5.204]);
    repeats[2].set_aside = Some("read one metre out".to_owned());
    let together = Repeats::of(&repeats, metres(0.003)).unwrap();
    near(together.mean.value, 5.204_333, 1e-6);
    assert_eq!((together.count, together.set_aside, together.by_usual), (3, 1, false));
    // By hand, in millimetres about the mean of 4.333: -1.333, 1.667, -0.333; squares add up to 4.667, over two 2.333.
    near(together.deviation.unwrap().value, 1.527_525e-3, 1e-9);
    near(together.range.value, 0.003, 1e-12);
    let Spread::Repeats { standard, freedom } = together.spread else { panic!("repeats have a scatter") };
    near(standard.value, 0.881_917e-3, 1e-9);
    near(freedom, 2.0, 0.0);
}

#[rstest]
fn a_single_dip_leans_on_the_usual_scatter_and_says_so() {
    let one = Repeats::of(&dips(&[5.2]), metres(0.003)).unwrap();
    assert!(one.by_usual && one.deviation.is_none());
    assert_eq!(one.spread, Spread::Standard(metres(0.003)));
}

/// erfc(1) = 0.157 299 2 and erfc(2) = 0.004 677 73 (Abramowitz and Stegun, table 7.1, from memory): a range of twice the
/// scatter is one of them, of four times the scatter the other, and any of three differences may be it.
#[rstest]
#[case::twice(2.0, 3.0 * 0.157_299_2)]
#[case::four_times(4.0, 3.0 * 0.004_677_73)]
#[case::none_at_all(0.0, 1.0)]
fn three_honest_dips_come_so_far_apart_by_chance(#[case] times: f64, #[case] chance: f64) {
    near(Together::by_chance(metres(0.0015 * times), metres(0.0015)), chance, 1e-6);
}

#[rstest]
fn two_dips_have_one_degree_of_freedom() {
    let two = Repeats::of(&dips(&[5.200, 5.204]), metres(0.003)).unwrap();
    // s = 4 mm / sqrt 2; s / sqrt 2 = 2 mm.
    let Spread::Repeats { standard, freedom } = two.spread else { panic!("repeats have a scatter") };
    near(standard.value, 0.002, 1e-12);
    near(freedom, 1.0, 0.0);
    assert_eq!((two.count, two.set_aside), (2, 0));
}

#[rstest]
fn nothing_that_counts_is_refused() {
    let mut repeats = dips(&[5.2]);
    repeats[0].set_aside = Some("tape caught on the ladder".to_owned());
    assert_eq!(Repeats::of(&repeats, metres(0.003)), Err(EvidenceError::NoRepeats));
    assert!(Repeats::of(&dips(&[f64::NAN]), metres(0.003)).is_err());
}

#[rstest]
#[case::within(&[5.203, 5.206, 5.204], Together::Agree { range: metres(0.003) })]
#[case::only_the_last_three_count(&[9.0, 5.203, 5.206, 5.204], Together::Agree { range: metres(0.003) })]
#[case::apart(&[5.203, 5.207, 5.204], Together::Apart { range: metres(0.004) })]
#[case::one_is_not_three(&[5.203], Together::TooFew { wanted: 2 })]
#[case::two_are_not_three(&[5.203, 5.203], Together::TooFew { wanted: 1 })]
fn three_must_lie_within_the_bound(#[case] lengths: &[f64], #[case] expected: Together) {
    match (Together::of(&dips(lengths), metres(0.003)), expected) {
        (Together::Agree { range: seen }, Together::Agree { range })
        | (Together::Apart { range: seen }, Together::Apart { range }) => near(seen.value, range.value, 1e-9),
        (seen, expected) => assert_eq!(seen, expected),
    }
}
