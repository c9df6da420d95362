//! What a differential cell is asked where another sensor is vented.

use domain::evidence::Amount;
use domain::visit::{
    Assessment, Choice, Draft, Grade, Instrument, Key, Moment, PieceId, PieceKind, Spot, Timing, assess,
    check_name, piece_asks,
};
use rstest::rstest;
use serde_json::{Value, json};
use uom::si::pressure::pascal;

/// A closed tank of 2 m, its bottom tap 0.5 m above the cell, its upper one at 2.2 m. With a wet leg the cell feels at zero
/// 0.5 m of water less 2.7 m: -2.2 * (999.1 - 1.2) * 9.8143 = -21546 Pa; 2 m of level press 19587 Pa.
fn row(mounting: Value) -> Instrument {
    serde_json::from_value(json!({
        "tag": "LT-1", "service": "tank", "serial": "A1", "unit": "mbar", "riser": "0.5 m", "riser_from": "tape",
        "site": {
            "name": "Tarn Lane", "latitude": "54", "altitude": "90 m", "liquid_temperature": "15 degC", "lengths": "m",
        },
        "liquid": { "name": "water" }, "span": "2 m", "lrv": "-215.5", "urv": "-19.6",
        "limits": {
            "lrl": "-500 mbar", "url": "500 mbar", "min_span": "20 mbar", "max_working": "16 bar", "accuracy": "0.05 %",
            "zero_allowance": "0.5 mbar",
        },
        "tolerance": "20 mm", "trim_rule": "true_at_zero", "head_plan": "head_in_range", "mounting": mounting,
    }))
    .unwrap()
}

fn wet_leg() -> Value {
    json!({ "kind": "wet_leg", "top": "2.2 m", "fill": { "name": "water" }, "vapour_density": "1.2 kg/m3" })
}

fn dry_leg() -> Value {
    json!({ "kind": "dry_leg", "top": "2.2 m", "vapour_density": "1.2 kg/m3" })
}

/// A visit with the check begun.
fn checked(mounting: Value, allowed: Choice) -> (Draft, PieceId) {
    let mut draft = Draft::begin(row(mounting), Moment(1_795_600_000_000));
    let id = draft.add_piece(PieceKind::Vented, Timing::Before);
    let spot = Spot::piece(id, Key::VentAllowed, 0);
    draft.answers.put(spot, allowed.word().into(), Moment(1_795_600_010_000));
    (draft, id)
}

fn dangers(seen: &Assessment, id: PieceId) -> Vec<String> {
    let said = seen.piece_remarks(id).iter().filter(|remark| remark.grade == Grade::Danger);
    said.map(|remark| format!("{}: {} {}", remark.code, remark.text, remark.remedy)).collect()
}

#[rstest]
#[case::wet_leg(wet_leg(), true)]
#[case::dry_leg(dry_leg(), true)]
#[case::interface(
    json!({ "kind": "interface", "top": "2.2 m", "fill": { "name": "water" }, "light": { "name": "oil", "density": "850 kg/m3", "at": "15 degC" } }),
    true
)]
#[case::riser(Value::Null, false)]
#[case::probe(json!({ "kind": "probe" }), false)]
fn only_a_cell_with_two_connections_is_equalised(#[case] mounting: Value, #[case] equalised: bool) {
    let (draft, id) = checked(mounting, Choice::Yes);
    let seen = assess(&draft).unwrap();
    assert_eq!(check_name(&draft.instrument), if equalised { "Equalised zero" } else { "Vented check" });
    let piece = draft.pieces[0].clone();
    let asks = piece_asks(&draft, &piece);
    let keys: Vec<Key> = asks.iter().map(|ask| ask.spot.key).collect();
    let said = dangers(&seen, id);
    if equalised {
        assert_eq!(keys, [Key::VentAllowed, Key::VentedReading], "no stub stands on one side alone");
        assert!(asks.iter().all(|ask| !ask.label.is_empty()), "{asks:?}");
        assert!(asks[1].label.contains("both sides joined") && !asks[1].label.contains("atmosphere"));
        let [caution, order] = said.as_slice() else { panic!("{said:?}") };
        assert!(caution.contains("The site's own procedure and permit for this manifold come first"));
        // The sides are joined before the second of them is shut off, and the site's own order goes first.
        let place = |words: &str| order.find(words).unwrap_or_else(|| panic!("{words}: {order}"));
        let steps = [
            "where the site says nothing else",
            "shut the isolating valve on the leg's side",
            "open the equalising valve",
            "shut the other isolating valve",
            "reverse order",
        ]
        .map(place);
        assert!(steps.is_sorted(), "{order}");
    } else {
        assert_eq!(keys, [Key::VentAllowed, Key::VentedReading, Key::VentedLeft]);
        assert!(asks.iter().all(|ask| ask.label.is_empty()), "{asks:?}");
        assert!(said.len() == 1 && said[0].starts_with("vented.caution"), "{said:?}");
    }
}

#[rstest]
#[case::joined(wet_leg(), "isolated and equalised")]
#[case::vented(Value::Null, "vented check")]
fn where_the_service_does_not_allow_it_nothing_is_read(#[case] mounting: Value, #[case] words: &str) {
    let (draft, id) = checked(mounting, Choice::No);
    let seen = assess(&draft).unwrap();
    let refused = seen.piece_remarks(id).iter().find(|remark| remark.grade == Grade::Refusal).unwrap();
    assert!(refused.code == "vented.not_here" && refused.text.contains(words), "{}", refused.text);
    let asks = piece_asks(&draft, &draft.pieces[0]);
    assert_eq!(asks.len(), 1, "{asks:?}");
}

/// With both sides joined the cell shows 0.4 mbar, its zero and its offset together; the leg's heights make the standing head.
/// So the trim takes just that away: 40 Pa, whatever the leg holds.
#[rstest]
#[case::wet(wet_leg())]
#[case::dry(dry_leg())]
fn the_zero_it_shows_is_what_the_trim_takes_away(#[case] mounting: Value) {
    let dry = mounting["kind"] == "dry_leg";
    let (mut draft, id) = checked(mounting, Choice::Yes);
    if dry {
        // With no leg of liquid 0.5 m of water stand under the zero: 0.5 * (999.1 - 1.2) * 9.814 = 4897 Pa; 2 m on top 245 mbar.
        (draft.instrument.lrv, draft.instrument.urv) = ("49.0".into(), "244.8".into());
    }
    let put =
        |draft: &mut Draft, spot, text: &str| draft.answers.put(spot, text.into(), Moment(1_795_600_020_000));
    put(&mut draft, Spot::of(Key::Display), if dry { "120.0" } else { "-120.0" });
    put(&mut draft, Spot::of(Key::OffsetKnown), Choice::OffsetUnknown.word());
    put(&mut draft, Spot::of(Key::StandingHeadAt), Choice::HeadInRange.word());
    put(&mut draft, Spot::piece(id, Key::VentedReading, 0), "0.4");
    let riser = draft.add_piece(PieceKind::Riser, Timing::Before);
    put(&mut draft, Spot::piece(riser, Key::RiserHeight, 0), "0.5 m");
    put(&mut draft, Spot::piece(riser, Key::RiserHow, 0), Choice::ByTape.word());
    let seen = assess(&draft).unwrap();
    let result = seen.shift.result.as_ref().unwrap();
    // The LRV in the register is rounded to 0.1 mbar; half of that is 5 Pa, and a millimetre of the heights 10.
    assert!((result.shift.value.get::<pascal>() + 40.0).abs() < 30.0, "{:?}", result.shift);
    let labels: Vec<&str> = result.alone.iter().map(|alone| alone.label.as_str()).collect();
    assert!(labels.iter().any(|label| label.contains("equalised zero")), "{labels:?}");
    assert!(seen.shift.assumptions.iter().any(|remark| remark.code == "assumed.equalised"));
    assert!(seen.shift.assumptions.iter().all(|remark| remark.code != "assumed.vented_dry"));
    let working = seen.working(&draft);
    assert!(working.iter().any(|line| line.what == "display with both sides joined"));
}

/// A leg of glycol and water, 1050 kg/m3 within 0.2 % standard, 2.1 kg/m3, over 2.7 m: 2.7 x 9.8143 x 2.1 = 55.65 Pa.
/// The gas, 1.2 kg/m3, is known to a twentieth; it stands over the 2.2 m from zero to the upper tap: 2.2 x 9.8143 x 0.06 = 1.30 Pa.
#[test]
fn what_the_densities_beside_the_liquids_may_be_off_by_counts() {
    let fill = json!({ "name": "glycol and water", "density": "1050 kg/m3", "at": "15 degC", "uncertainty": "0.2 %" });
    let leg = json!({ "kind": "wet_leg", "top": "2.2 m", "fill": fill, "vapour_density": "1.2 kg/m3" });
    let (mut draft, id) = checked(leg, Choice::Yes);
    (draft.instrument.lrv, draft.instrument.urv) = ("-229.3".into(), "-33.4".into());
    let mut put = |spot, text: &str| draft.answers.put(spot, text.into(), Moment(1_795_600_020_000));
    put(Spot::of(Key::Display), "-130.0");
    put(Spot::of(Key::OffsetKnown), Choice::OffsetUnknown.word());
    put(Spot::of(Key::StandingHeadAt), Choice::HeadInRange.word());
    put(Spot::piece(id, Key::VentedReading, 0), "0.4");
    let riser = draft.add_piece(PieceKind::Riser, Timing::Before);
    let mut put = |spot, text: &str| draft.answers.put(spot, text.into(), Moment(1_795_600_020_000));
    put(Spot::piece(riser, Key::RiserHeight, 0), "0.5 m");
    put(Spot::piece(riser, Key::RiserHow, 0), Choice::ByTape.word());
    let seen = assess(&draft).unwrap();
    let budget = &seen.shift.result.as_ref().unwrap().budget;
    for (label, pascals) in [("density of the fill", 55.65), ("density of the gas over the liquid", 1.30)] {
        let row =
            budget.iter().find(|row| row.label == label).unwrap_or_else(|| panic!("{label} in {budget:?}"));
        let Amount::Pressure(part) = row.contribution else { panic!("{row:?}") };
        assert!((part.get::<pascal>().abs() - pascals).abs() < 0.01, "{label}: {part:?}");
    }
}
