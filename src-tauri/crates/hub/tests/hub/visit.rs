//! A visit that was worked out as a phone does it: a dip in the invented tower.

use bodies::{Confirmed, PersonId, Technician, VISIT, VISIT_VERSION, Visit};
use domain::visit::{Choice, Draft, Finished, Instrument, Key, Moment, PieceKind, Spot, Timing, assess};

use crate::phone::Phone;

const TODAY: i64 = 20_782 * 86_400_000;

fn tower() -> Instrument {
    let row = r#"{"tag":"LT-2041","service":"Sedge Hill tower level","serial":"A1","unit":"ft","riser":"20 ft",
        "riser_from":"tape","site":{"name":"Sedge Hill","latitude":"40","altitude":"0 m",
        "liquid_temperature":"15 degC","lengths":"ft"},"liquid":{"name":"water"},"span":"20 ft","lrv":"0","urv":"20",
        "hatch":"25 ft","limits":{"lrl":"-50 psi","url":"50 psi","min_span":"1 psi","max_working":"100 psi",
        "accuracy":"0.05 %","zero_allowance":"0.02 psi"},"tolerance":"2 in","trim_rule":"true_at_zero",
        "head_plan":"head_in_offset"}"#;
    serde_json::from_str(row).unwrap()
}

/// The visit, finished.
pub(crate) fn finished() -> Finished {
    let mut draft = Draft::begin(tower(), Moment(TODAY));
    let at = Moment(TODAY + 60_000);
    let put = |draft: &mut Draft, spot: Spot, text: &str| draft.answers.put(spot, text.into(), at);
    for row in 0..u32::try_from(draft.instrument.safety.len()).unwrap() {
        put(&mut draft, Spot::row(Key::SafetyItem, row), "done");
    }
    for (key, text) in [
        (Key::TagMatches, Choice::Yes.word()),
        (Key::RangeMatches, Choice::Yes.word()),
        (Key::ControlRoomTold, "Ada"),
        (Key::SerialRead, "A-1"),
        (Key::Display, "25.00"),
        (Key::OffsetKnown, Choice::OffsetReadToday.word()),
        (Key::OffsetValue, "0.00"),
        (Key::StandingHeadAt, Choice::HeadNowhere.word()),
        (Key::LineBled, Choice::BledClear.word()),
        (Key::VentLooked, Choice::VentClear.word()),
    ] {
        put(&mut draft, Spot::of(key), text);
    }
    let piece = draft.add_piece(PieceKind::Dip, Timing::Before);
    for (row, dip) in ["5 ft", "5 ft", "5 ft 1/8 in"].into_iter().enumerate() {
        put(&mut draft, Spot { piece, key: Key::Dip, row: u32::try_from(row).unwrap() }, dip);
    }
    for (key, text) in [
        (Key::Decision, Choice::Trim.word()),
        (Key::TrimResult, Choice::TrimTook.word()),
        (Key::DisplayLeft, "5.00"),
    ] {
        put(&mut draft, Spot::of(key), text);
    }
    for row in 0..4 {
        put(&mut draft, Spot::row(Key::BackItem, row), "done");
    }
    let seen = assess(&draft).unwrap();
    seen.finish(&draft).unwrap_or_else(|missing| panic!("{missing:?}"))
}

/// Signs a visit with a phone.
pub(crate) fn sign(phone: &mut Phone, finished: Finished) {
    let technician = Technician { person: PersonId([9; 16]), confirmed: Confirmed::Pin };
    let visit = Visit { technician, app: "0.1.0".into(), finished, cited: Vec::new() };
    phone.sign(VISIT, VISIT_VERSION, &visit.encode().unwrap());
}
