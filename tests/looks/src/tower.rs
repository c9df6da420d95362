//! The eight steps at the invented towers, and the ways a step can stand.

use anyhow::{Context, Result};
use domain::visit::{Choice, Key, PieceId, PieceKind, Spot, Step, Timing};
use kit::{Act, as_found};
use serde_json::Value;

use crate::scene::Scene;
use crate::screens::{Screens, screen};
use crate::still::Still;

/// Returns the screens by their names.
pub(crate) fn screens() -> Result<Screens> {
    let mut all = steps()?;
    all.extend(shifts()?);
    all.extend(checks()?);
    all.insert("record", screen("record", Scene::of(&kit::dip()).signed(&Still::ready()?)?)?);
    Ok(all)
}

fn seen(scene: &Scene, step: Step) -> Result<Value> {
    screen("visit", scene.seen_at(step)?)
}

/// Each step while it is being filled in.
fn steps() -> Result<Screens> {
    let dip = Scene::of(&kit::dip());
    let history = Scene::of(&kit::vented());
    let nothing = |scene: Scene, step| scene.instead(step, Vec::new());
    let begun = nothing(nothing(dip.clone(), Step::Find), Step::AsFound);
    let pit = nothing(Scene::of(&kit::vented()), Step::MakeSafe);
    let full = Scene::of(&kit::vented()).instead(Step::AsFound, as_found("7.20", Choice::OffsetUnknown, &[]));
    let full = full.instead(Step::Evidence, long_dip());
    Ok(Screens::from([
        ("1-find-begun", seen(&begun, Step::Find)?),
        ("2-make-safe-begun", seen(&pit, Step::MakeSafe)?),
        ("3-as-found-begun", seen(&begun, Step::AsFound)?),
        ("1-find", seen(&dip.clone().instead(Step::Find, find()), Step::Find)?),
        ("2-make-safe", seen(&dip.clone().instead(Step::MakeSafe, make_safe()), Step::MakeSafe)?),
        ("3-as-found", seen(&dip.clone().and(Step::AsFound, doubtful()), Step::AsFound)?),
        ("3-as-found-slips", seen(&dip.clone().instead(Step::AsFound, slipped()), Step::AsFound)?),
        ("3-as-found-flow", seen(&dip.clone().and(Step::AsFound, flowing()), Step::AsFound)?),
        ("4-evidence", seen(&dip.clone().instead(Step::Evidence, two_dips()), Step::Evidence)?),
        ("4-evidence-tape", seen(&full, Step::Evidence)?),
        ("4-evidence-none", seen(&dip.clone().instead(Step::Evidence, Vec::new()), Step::Evidence)?),
        ("6-as-left", seen(&dip, Step::AsLeft)?),
        ("7-back-in-service", seen(&dip.clone().instead(Step::BackInService, back()), Step::BackInService)?),
        ("8-sign", seen(&nothing(dip.clone(), Step::Sign), Step::Sign)?),
        ("8-sign-history", seen(&history, Step::Sign)?),
    ]))
}

/// The shift: sure, moving, open, with a slip, and none to make.
fn shifts() -> Result<Screens> {
    let dip = Scene::of(&kit::dip()).instead(Step::Shift, Vec::new());
    let slip = dip
        .clone()
        .instead(Step::AsFound, as_found("14.53", Choice::OffsetReadToday, &[(Key::OffsetValue, "-13.47")]));
    let slip = slip.instead(Step::Evidence, dipped("14.53", "14' 3 1/2\"", "14.53"));
    let open = dip.clone().instead(Step::AsFound, as_found("41.92", Choice::OffsetUnknown, &[]));
    let open = open.instead(Step::Evidence, riser());
    let moving = dip.clone().instead(Step::Evidence, dipped("14.53", "14' 3 1/2\"", "14.71"));
    let leave = dip
        .clone()
        .instead(Step::AsFound, as_found("14.30", Choice::OffsetReadToday, &[(Key::OffsetValue, "-31.32")]));
    let leave = leave.instead(Step::Evidence, dipped("14.30", "14' 3 1/2\"", "14.30"));
    let still = Still::ready()?;
    let id = moving.play(&still, Step::Shift)?.id;
    let target = still.core.phone().target(&id)?.context("the level does not move")?;
    Ok(Screens::from([
        ("5-shift", seen(&dip, Step::Shift)?),
        ("5-shift-leave", seen(&leave, Step::Shift)?),
        ("5-shift-moving", seen(&moving, Step::Shift)?),
        ("4-evidence-open", seen(&open, Step::Evidence)?),
        ("5-shift-open", seen(&open, Step::Shift)?),
        ("5-shift-slip", seen(&slip, Step::Shift)?),
        ("target", serde_json::to_value(target)?),
    ]))
}

/// With a pressure source at hand.
fn checks() -> Result<Screens> {
    let mut as_found = source();
    as_found.extend(points(
        Key::CheckApplied,
        Key::CheckDisplay,
        &["0.00", "6.50", "13.00"],
        &["0.24", "6.74", "13.25"],
    ));
    let as_left = points(Key::CheckAppliedLeft, Key::CheckDisplayLeft, &["0.00"], &["0.01"]);
    let dip = Scene::of(&kit::dip()).and(Step::AsFound, as_found);
    Ok(Screens::from([
        ("3-as-found-check", seen(&dip, Step::AsFound)?),
        ("6-as-left-check", seen(&dip.clone().and(Step::AsLeft, as_left), Step::AsLeft)?),
    ]))
}

/// Another unit's serial number.
fn find() -> Vec<Act> {
    vec![Act::writes(Key::SerialRead, "MW-50-11837")]
}

/// The site's own item done, one that does not apply, the rest open.
fn make_safe() -> Vec<Act> {
    let item = |row, choice| Act::Chooses(Spot::row(Key::SafetyItem, row), choice);
    vec![
        item(0, Choice::Done),
        item(1, Choice::DoesNotApply),
        Act::Writes(Spot::row(Key::SafetyReason, 1), "No pump hangs on this level".to_owned()),
        Act::writes(Key::ControlRoomTold, "Duty desk, Marrowby"),
        Act::pads(Key::InhibitMinutes, "90"),
    ]
}

/// The loop at its upper end, and a control-room level that reads two ways.
fn doubtful() -> Vec<Act> {
    vec![
        Act::pads(Key::LoopCurrent, "20.5"),
        Act::pads(Key::ControlRoom, "14,5"),
        Act::pads(Key::LiquidTemperature, "12 °C"),
    ]
}

/// More is drawn than the riser usually carries.
fn flowing() -> Vec<Act> {
    vec![
        Act::chooses(Key::FlowInRiser, Choice::FlowDrawing),
        Act::pads(Key::FlowRate, "3000"),
        Act::chooses(Key::FlowRateFrom, Choice::RateMetered),
    ]
}

/// A loop held on a test point.
fn slipped() -> Vec<Act> {
    let mut acts = as_found("14.53", Choice::OffsetReadToday, &[(Key::OffsetValue, "-31.10")]);
    acts.push(Act::pads(Key::LoopCurrent, "12.00"));
    acts
}

/// Two dips with an overdue tape; the third row is open.
fn two_dips() -> Vec<Act> {
    let mut acts = dipped("14.53", "14' 3 1/2\"", "");
    let at = |key, row| Spot::piece(PieceId(1), key, row);
    acts.push(Act::Pads(at(Key::Dip, 1), "14' 3 5/8\"".to_owned()));
    acts.push(Act::Writes(at(Key::TapeUsed, 0), "Tape M-09".to_owned()));
    acts
}

/// A dip with the display before it, and after it where that was read.
pub(crate) fn dipped(before: &str, dip: &str, after: &str) -> Vec<Act> {
    let pads = |key, text: &str| Act::Pads(Spot::piece(PieceId(1), key, 0), text.to_owned());
    let mut acts = vec![
        Act::Adds(PieceKind::Dip, Timing::Before),
        pads(Key::ReadingBefore, before),
        pads(Key::Dip, dip),
    ];
    acts.extend((!after.is_empty()).then(|| pads(Key::ReadingAfter, after)));
    acts
}

/// A dip so long that it matters how warm its tape is.
fn long_dip() -> Vec<Act> {
    let at = |key| Spot::piece(PieceId(1), key, 0);
    vec![
        Act::Adds(PieceKind::Dip, Timing::Before),
        Act::Pads(at(Key::Dip), "7.200 m".to_owned()),
        Act::Writes(at(Key::TapeUsed), "Tape M-14".to_owned()),
    ]
}

fn riser() -> Vec<Act> {
    let at = |key| Spot::piece(PieceId(1), key, 0);
    vec![
        Act::Adds(PieceKind::Riser, Timing::Before),
        Act::Pads(at(Key::RiserHeight), "31' 4\"".to_owned()),
        Act::Chooses(at(Key::RiserHow), Choice::ByTape),
    ]
}

fn source() -> Vec<Act> {
    vec![
        Act::chooses(Key::PressureSource, Choice::Yes),
        Act::writes(Key::SourceName, "Hand pump with gauge G-7"),
        Act::writes(Key::SourceUncertainty, "0.05 %"),
        Act::chooses(Key::AppliedAs, Choice::SimulatedLevel),
    ]
}

fn points(applied: Key, display: Key, put: &[&str], shown: &[&str]) -> Vec<Act> {
    let pads = |key, row, text: &str| Act::Pads(Spot::row(key, row), text.to_owned());
    let each = (0..).zip(put.iter().zip(shown));
    each.flat_map(|(row, (put, shown))| [pads(applied, row, put), pads(display, row, shown)]).collect()
}

/// One thing stays undone for now.
fn back() -> Vec<Act> {
    let item = |row, choice| Act::Chooses(Spot::row(Key::BackItem, row), choice);
    let reason = "The duty desk keeps it in manual until the tower is full".to_owned();
    vec![item(0, Choice::Done), item(1, Choice::NotDone), Act::Writes(Spot::row(Key::BackReason, 1), reason)]
}
