//! Promises that hold for any tower.

use proptest::prelude::*;

use super::tower::{FOOT, Tower, feet, near, pascals};
use crate::evidence::{Ask, Carried, Spread};

#[derive(Debug, Clone)]
struct Site {
    riser: f64,
    level: f64,
    zero: f64,
    carried: f64,
    dip: f64,
    noise: f64,
    tape: f64,
}

fn sites() -> impl Strategy<Value = Site> {
    let sizes = (-2.0..60.0, 0.01..15.0, -2000.0..2000.0, -500_000.0..1000.0);
    let errors = (-0.01..0.01, 1.0..100.0, 0.0005..0.02);
    (sizes, errors).prop_map(|((riser, level, zero, carried), (dip, noise, tape))| Site {
        riser,
        level,
        zero,
        carried,
        dip,
        noise,
        tape,
    })
}

/// Which references a visit brings, and in which order.
fn orders() -> impl Strategy<Value = Vec<u8>> {
    Just(vec![0, 1, 2, 3]).prop_shuffle()
}

const K: f64 = 9806.65;

impl Site {
    fn shown(&self) -> f64 {
        self.zero + self.carried + K * (self.riser + self.level)
    }

    fn tower(&self, order: &[u8]) -> Tower {
        let mut tower = Tower::real(Some(self.carried));
        tower.reads(self.shown(), Spread::Standard(self.noise));
        for reference in order {
            match reference {
                0 => tower.dipped(self.level + self.dip, Spread::Standard(self.tape)),
                1 => tower.riser(self.riser, Spread::Standard(0.005)),
                2 => tower.vented(self.zero + self.carried, Spread::Standard(self.noise)),
                _ => tower.dipped(self.level, Spread::Standard(0.004)),
            }
        }
        tower
    }
}

fn close(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-9 * one.abs().max(other.abs()).max(1.0)
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(64))]

    #[test]
    fn trimming_then_reading_gives_the_reference_back(site in sites()) {
        let mut tower = Tower::real(None);
        tower.reads(site.shown(), Spread::Standard(site.noise));
        tower.dipped(site.level, Spread::Standard(site.tape));
        let at_zero = tower.solved();
        let shown_after = site.shown() + at_zero.shift.value.value;
        near(shown_after, K * site.level, 1e-6 * (1.0 + site.shown().abs() / K));
        // Whoever trims to that and reads again finds nothing left to trim.
        let change = tower.pressure("trim", at_zero.shift.value.value, Spread::Exact);
        let left = tower.case.offset_changed(tower.offset, change);
        let ask = Ask { offset: left, display: pascals(shown_after), ..tower.ask() };
        let again = tower.case.reconcile(&ask).unwrap();
        near(again.determined().unwrap().shift.value.value, 0.0, 1e-5);
        near(again.determined().unwrap().error.standard.value, at_zero.error.standard.value, 1e-9);
        tower.true_at_reference(0.98 * FOOT);
        let at_reference = tower.solved();
        near(at_reference.to.value / (0.98 * FOOT), site.level / feet(1.0).value, 1e-8 * (1.0 + site.level));
    }

    #[test]
    fn the_order_of_evidence_does_not_matter(site in sites(), order in orders()) {
        let (one, other) = (site.tower(&[0, 1, 2, 3]).solved(), site.tower(&order).solved());
        prop_assert!(close(one.shift.value.value, other.shift.value.value));
        prop_assert!(close(one.shift.standard.value, other.shift.standard.value));
        prop_assert!(close(one.consistency.chi_square, other.consistency.chi_square));
        prop_assert_eq!(one.consistency.agreement, other.consistency.agreement);
    }

    #[test]
    fn more_evidence_never_widens_the_uncertainty(site in sites(), order in orders()) {
        let widths: Vec<f64> = (1..=4)
            .filter_map(|many| {
                let outcome = site.tower(&order[..many]).outcome().unwrap();
                // The allowance is an assumption, not evidence; this tower has none.
                outcome.determined().map(|solved| solved.shift.expanded.value)
            })
            .collect();
        for pair in widths.windows(2) {
            prop_assert!(pair[1] <= pair[0] * (1.0 + 1e-9), "{widths:?}");
        }
    }

    #[test]
    fn the_shift_in_pascals_does_not_depend_on_the_unit(site in sites(), unit in 0.01..1e6_f64) {
        let plain = site.tower(&[0, 1, 2]).solved();
        // The same visit written down in another unit and read back into pascals.
        let mut there = site.clone();
        there.zero = site.zero / unit * unit;
        there.carried = site.carried / unit * unit;
        there.noise = site.noise / unit * unit;
        let back = there.tower(&[0, 1, 2]).solved();
        prop_assert!(close(plain.shift.value.value, back.shift.value.value));
        prop_assert!(close(plain.shift.expanded.value, back.shift.expanded.value));
    }

    #[test]
    fn a_carried_offset_only_moves_the_display(site in sites(), more in -100_000.0..100_000.0) {
        // The total a trim ends at is a matter of tower and sensor, not of what was carried before.
        let total = |carried: f64| {
            let there = Site { carried, ..site.clone() };
            there.tower(&[0, 1, 2]).solved().total.unwrap().value.value
        };
        prop_assert!((total(site.carried) - total(site.carried + more)).abs() < 1e-4);
    }

    #[test]
    fn nothing_typed_makes_it_panic(
        values in prop::collection::vec(prop::num::f64::ANY, 8),
        exact in any::<bool>(),
    ) {
        let off = |value: f64| if exact { Spread::Exact } else { Spread::Standard(value) };
        let mut tower = Tower::real(None);
        let carried = tower.pressure("offset", values[6], off(values[7]));
        tower.offset = tower.case.offset(Carried::OnRecord(carried));
        tower.reads(values[0], off(values[1]));
        tower.dipped(values[2], off(values[3]));
        tower.riser(values[4], off(values[5]));
        tower.vented(values[1], off(values[0]));
        tower.allow_zero(off(values[2]));
        if let Ok(outcome) = tower.outcome()
            && let Some(solved) = outcome.determined()
        {
            prop_assert!(solved.shift.value.value.is_finite());
            prop_assert!(solved.shift.expanded.value.is_finite());
        }
    }
}
