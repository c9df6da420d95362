//! Slips of a mounting: legs, fills, probes, vents, flow; one at a time.

use rstest::rstest;

use crate::mounts::Mount;
use crate::slipped::{ANY, Made, hold, visit_at};
use crate::story::{Kind, Story, Wrong};
use crate::tower::{Register, air, gravity};
use suite::Chance;

/// What a metre of the fill presses more than what takes its place, by the register.
fn fill(register: &Register) -> f64 {
    let gas = register.gas.unwrap_or_else(|| air(register.altitude));
    register.columns.fill_presses(gas, gravity(register.latitude, register.altitude))
}

/// A display that is off by more than a third of the tank is noticed otherwise.
fn passes(story: Story, size: f64, causes: &'static [&'static str]) -> Option<Made> {
    (size.abs() < story.register.span / 3.0).then_some(Made { story, size, causes })
}

/// The leg's liquid stands lower than its top.
fn leg_short(chance: &mut Chance) -> Option<Made> {
    let lost = chance.between(0.02, 0.5);
    let added = |register: &Register| fill(register) * lost * (register.columns.top + register.riser);
    let wrong = |register: &Register| Wrong { beside: added(register), ..Wrong::default() };
    let story = visit_at(&[Mount::WetLeg, Mount::Interface], &ANY, wrong, chance);
    let size = added(&story.register) / story.register.metre;
    passes(story, size, &["leg_short"])
}

/// A fill that is lighter or denser than the register's.
fn another_fill(mounts: &[Mount], chance: &mut Chance) -> Option<Made> {
    let share = chance.one_of(&[-0.12, -0.07, -0.03, 0.03, 0.07, 0.12]);
    let added = |register: &Register| {
        let columns = register.columns;
        let more = columns.fill * share * gravity(register.latitude, register.altitude);
        match columns.mount {
            Mount::OneSeal => more * (columns.tap + register.riser),
            Mount::TwoSeals => -more * (columns.top - columns.tap),
            _ => -more * (columns.top + register.riser),
        }
    };
    let wrong = |register: &Register| Wrong { beside: added(register), ..Wrong::default() };
    let story = visit_at(mounts, &ANY, wrong, chance);
    let size = added(&story.register) / story.register.metre;
    passes(story, size, &["fill_density"])
}

fn leg_refilled(chance: &mut Chance) -> Option<Made> {
    another_fill(&[Mount::WetLeg, Mount::Interface], chance)
}

fn seal_filled(chance: &mut Chance) -> Option<Made> {
    another_fill(&[Mount::OneSeal, Mount::TwoSeals], chance)
}

/// Condensate of the vessel's liquid in a dry leg.
fn leg_wet(chance: &mut Chance) -> Option<Made> {
    let height = chance.between(0.05, 5.0);
    let wrong = |register: &Register| Wrong { beside: -register.metre * height, ..Wrong::default() };
    let story = visit_at(&[Mount::DryLeg], &ANY, wrong, chance);
    (height < story.register.columns.top + story.register.riser).then_some(Made {
        story,
        size: height,
        causes: &["leg_wet"],
    })
}

fn probe_depth(chance: &mut Chance) -> Option<Made> {
    let longer = chance.between(0.1, 1.9) * chance.sign();
    let wrong = Wrong { longer, ..Wrong::default() };
    let story = visit_at(&[Mount::Probe], &ANY, |_| wrong, chance);
    Made::of(story, longer, &["probe_depth"])
}

/// The weather since a vent tube was shut; nobody sees into the tube.
fn vent_shut(chance: &mut Chance) -> Option<Made> {
    let vent = chance.between(300.0, 3500.0) * chance.sign();
    let wrong = Wrong { vent, ..Wrong::default() };
    let mut story = visit_at(&[Mount::Probe], &ANY, |_| wrong, chance);
    story.vent_seen = false;
    let size = vent / story.register.metre;
    Made::of(story, size, &["vent_shut"])
}

/// Water runs in the riser, and nobody spoke of it. Bore and largest flow stand in the register; the pipe's friction by
/// Swamee and Jain's formula (1976).
fn flow(chance: &mut Chance) -> Option<Made> {
    let (bore, roughness) = (chance.between(0.1, 0.25), 0.000_15);
    let most = chance.between(1.0, 3.0);
    let speed = most * chance.between(0.3, 1.0);
    let draws = chance.often(0.5);
    let added = |register: &Register| {
        let reynolds = speed * bore / 1.2e-6;
        let factor = 0.25 / (roughness / (3.7 * bore) + 5.74 / reynolds.powf(0.9)).log10().powi(2);
        let head = speed * speed / (2.0 * 9.81);
        let friction = factor * register.riser / bore * head;
        register.metre * if draws { -(friction + 1.5 * head) } else { friction }
    };
    let wrong = |register: &Register| Wrong { beside: added(register), ..Wrong::default() };
    let kinds =
        [Kind::Dip, Kind::Drop, Kind::TwoDips, Kind::DipAndDrop, Kind::DipAndVented, Kind::DipAndRiser];
    let mut story = visit_at(&[Mount::Riser], &kinds, wrong, chance);
    let litres = 1000.0 * most * std::f64::consts::PI / 4.0 * bore * bore;
    story.register.more.push(format!(
        r#""riser_pipe":{{"bore":"{:.1} mm","most_flow":"{litres:.2} L/s","roughness":"0.15 mm","entry":"0.5"}}"#,
        bore * 1000.0
    ));
    let size = added(&story.register) / story.register.metre;
    Made::of(story, size, &["flow"])
}

#[rstest]
#[case::wet_leg_lost_liquid(leg_short)]
#[case::wet_leg_refilled_with_another_fill(leg_refilled)]
#[case::condensate_in_the_dry_leg(leg_wet)]
#[case::seals_filled_with_another_fill(seal_filled)]
#[case::probe_at_another_depth(probe_depth)]
#[case::vent_tube_shut(vent_shut)]
#[case::water_runs_in_the_riser(flow)]
fn the_true_cause_in_a_mounting_is_among_the_first_two(#[case] make: fn(&mut Chance) -> Option<Made>) {
    hold(make);
}
