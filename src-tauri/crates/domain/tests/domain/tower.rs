//! A tower with earlier visits, and a visit of today to it.

use domain::visit::{Choice, Draft, Earlier, Instrument, Key, Moment, Spot};

/// 2026-11-25 in milliseconds.
pub(crate) const TODAY: i64 = 20_782 * 86_400_000;

/// A 20 ft riser under a 20 ft range, read in feet of the liquid.
pub(crate) fn tower(earlier: Vec<Earlier>) -> Instrument {
    let row = r#"{"tag":"LT-1","service":"tower","serial":"A1","unit":"ft","riser":"20 ft","riser_from":"tape",
        "site":{"name":"Sedge Hill","latitude":"40","altitude":"0 m","liquid_temperature":"15 degC","lengths":"ft"},
        "liquid":{"name":"water"},"span":"20 ft","lrv":"0","urv":"20","hatch":"25 ft",
        "limits":{"lrl":"-50 psi","url":"50 psi","min_span":"1 psi","max_working":"100 psi","accuracy":"0.05 %","zero_allowance":"0.02 psi"},
        "tolerance":"2 in","trim_rule":"true_at_zero","head_plan":"head_in_offset","interval":"12 months",
        "tapes":[{"id":"T-7","uncertainty":"2 mm"}]}"#;
    Instrument { earlier, ..serde_json::from_str(row).unwrap() }
}

/// A visit whose evidence called for so many feet of that day's water, 999.1 kg/m3 as it is at 15 degC.
pub(crate) fn visit(date: &str, feet: f64) -> Earlier {
    Earlier {
        date: date.into(),
        offset: format!("{feet} ft"),
        density: "999.1 kg/m3".into(),
        uncertainty: "0.03 ft".into(),
        error: "0.4 in".into(),
        serial: "A1".into(),
        by: "dip".into(),
        tape: "T-7".into(),
        ..Earlier::default()
    }
}

/// Three of them, a year apart, each 0.05 ft lower.
pub(crate) fn three() -> Vec<Earlier> {
    vec![visit("2023-11-24", -20.0), visit("2024-11-24", -20.05), visit("2025-11-24", -20.10)]
}

/// A visit of today that shows 25.00 ft and says of the offset what is given.
pub(crate) fn draft(row: Instrument, offset: Choice) -> Draft {
    let mut draft = Draft::begin(row, Moment(TODAY));
    for (key, text) in [
        (Key::TagMatches, "yes"),
        (Key::SerialRead, "A-1"),
        (Key::Display, "25.00"),
        (Key::OffsetKnown, offset.word()),
        (Key::OffsetValue, if offset == Choice::OffsetReadToday { "0.00" } else { "" }),
        (Key::StandingHeadAt, "head_nowhere"),
        (Key::LineBled, "bled_clear"),
        (Key::VentLooked, "vent_clear"),
    ] {
        draft.answers.put(Spot::of(key), text.into(), Moment(TODAY + 60_000));
    }
    draft
}
