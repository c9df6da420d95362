//! A dip at every mounting, as far as the shift.

use anyhow::Result;
use domain::visit::{Choice, Key, PieceId, PieceKind, Spot, Step, Timing};
use kit::Act;

use crate::scene::Scene;
use crate::screens::{Screens, screen};
use crate::tower::dipped;

/// Returns the screens by their names.
///
/// The displays stand a little off what the dip and the range make of the level.
pub(crate) fn screens() -> Result<Screens> {
    let day = |tag, display, dip| shift(tag, display, dip, Choice::HeadInRange);
    Ok(Screens::from([
        ("4-evidence-equalised", equalised("LT-5004", "-60.2")?),
        ("5-shift-above", day("LT-4012", "145.6", "2.31 m")?),
        ("5-shift-dry-leg", day("LT-4030", "213.0", "1.80 m")?),
        ("5-shift-interface", day("LT-4040", "-8.9", "0.45 m")?),
        ("5-shift-probe", shift("LT-2055", "7.31", "7' 2\"", Choice::HeadInOffset)?),
        ("5-shift-seal", day("LT-2060", "3.05", "4' 8 1/2\"")?),
        ("5-shift-two-seals", day("LT-4031", "-77.0", "1.42 m")?),
        ("5-shift-wet-leg", day("LT-5004", "-60.2", "0.62 m")?),
    ]))
}

/// A cell with two connections, both joined: what it shows is its own.
fn equalised(tag: &str, display: &str) -> Result<serde_json::Value> {
    let at = |key| Spot::piece(PieceId(1), key, 0);
    let check = vec![
        Act::Adds(PieceKind::Vented, Timing::Before),
        Act::Chooses(at(Key::VentAllowed), Choice::Yes),
        Act::Pads(at(Key::VentedReading), "0.4".to_owned()),
    ];
    screen(
        "visit",
        found(tag, display, Choice::HeadInRange).and(Step::Evidence, check).seen_at(Step::Evidence)?,
    )
}

fn shift(tag: &str, display: &str, dip: &str, head: Choice) -> Result<serde_json::Value> {
    let scene = found(tag, display, head).and(Step::Evidence, dipped(display, dip, display));
    screen("visit", scene.seen_at(Step::Shift)?)
}

/// A visit on which the display was read and the offset is nought.
fn found(tag: &str, display: &str, head: Choice) -> Scene {
    let safe =
        vec![Act::writes(Key::ControlRoomTold, "Duty desk, Marrowby"), Act::pads(Key::InhibitMinutes, "90")];
    let found = vec![
        Act::pads(Key::Display, display),
        Act::chooses(Key::OffsetKnown, Choice::OffsetReadToday),
        Act::pads(Key::OffsetValue, "0"),
        Act::chooses(Key::StandingHeadAt, head),
    ];
    Scene::at(tag).and(Step::MakeSafe, safe).and(Step::AsFound, found)
}
