//! The table everyone in the trade carries in the head. Common practice, no source: exact where one unit of
//! reading is one unit of liquid, the offset was just cleared and the sensor's zero is true.

use rstest::rstest;

use super::tower::{FOOT, Tower, feet, near};
use crate::evidence::Spread::Exact;

fn riser_20_ft() -> f64 {
    feet(20.0).value
}

#[rstest]
fn empty_tank_over_a_20_ft_riser_reads_20_and_is_trimmed_to_0() {
    let mut tower = Tower::exact(Some(0.0));
    tower.reads(20.0 * FOOT, Exact);
    tower.dipped(0.0, Exact);
    let solved = tower.solved();
    near(solved.to.value / FOOT, 0.0, 1e-9);
    near(solved.shift.value.value / FOOT, -20.0, 1e-9);
    near(solved.error.value.value, riser_20_ft(), 1e-9);
}

#[rstest]
#[case::true_at_zero(false)]
#[case::true_at_the_reference(true)]
fn reading_25_with_5_dipped_is_trimmed_to_5(#[case] at_reference: bool) {
    let mut tower = Tower::exact(Some(0.0));
    tower.reads(25.0 * FOOT, Exact);
    tower.dipped(feet(5.0).value, Exact);
    if at_reference {
        tower.true_at_reference(FOOT);
    }
    let solved = tower.solved();
    near(solved.to.value / FOOT, 5.0, 1e-9);
    near(solved.shift.value.value / FOOT, -20.0, 1e-9);
    near(solved.total.unwrap().value.value / FOOT, -20.0, 1e-9);
}

#[rstest]
fn reading_25_over_a_20_ft_riser_with_the_level_unknown_is_trimmed_to_5() {
    let mut tower = Tower::exact(Some(0.0));
    tower.reads(25.0 * FOOT, Exact);
    tower.riser(riser_20_ft(), Exact);
    tower.allow_zero(Exact);
    let solved = tower.solved();
    near(solved.to.value / FOOT, 5.0, 1e-9);
    assert!(solved.leans_on_allowance);
    let (_, level) = solved.levels[0];
    near(level.value.value, feet(5.0).value, 1e-9);
}

#[rstest]
fn an_offset_already_carried_stays_in_the_new_total() {
    // The unit carries -3 ft, so the display shows 22 where a cleared one would show 25.
    let mut tower = Tower::exact(Some(-3.0 * FOOT));
    tower.reads(22.0 * FOOT, Exact);
    tower.riser(riser_20_ft(), Exact);
    tower.allow_zero(Exact);
    let solved = tower.solved();
    near(solved.shift.value.value / FOOT, -17.0, 1e-9);
    near(solved.to.value / FOOT, 5.0, 1e-9);
    near(solved.total.unwrap().value.value / FOOT, -20.0, 1e-9);
}

#[rstest]
fn a_raw_range_is_trimmed_to_the_standing_head_instead_of_zero() {
    let mut tower = Tower::exact(Some(0.0));
    tower.reads(25.5 * FOOT, Exact);
    tower.dipped(feet(5.0).value, Exact);
    tower.target = super::tower::pascals(20.0 * FOOT);
    let solved = tower.solved();
    near(solved.to.value / FOOT, 25.0, 1e-9);
    near(solved.shift.value.value / FOOT, -0.5, 1e-9);
}

#[rstest]
fn the_two_rules_differ_by_what_the_unit_is_worth_over_the_level() {
    // A display in feet of a liquid 1 % lighter than the real one: (k - 1) L with k = 1/0.99 and L = 5 ft.
    let mut tower = Tower::exact(Some(0.0));
    tower.reads(25.0 * FOOT, Exact);
    tower.dipped(feet(5.0).value, Exact);
    let at_zero = tower.solved().shift.value.value;
    tower.true_at_reference(0.99 * FOOT);
    let at_reference = tower.solved();
    near((at_zero - at_reference.shift.value.value) / FOOT, (1.0 - 0.99) * 5.0, 1e-9);
    near(at_reference.to.value / (0.99 * FOOT), 5.0, 1e-9);
}
