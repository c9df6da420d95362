//! What one touch may state, and what it never does.

use domain::visit::{Draft, Earlier, Instrument, Key, Moment, Spot, Step, assess};
use rstest::rstest;

use crate::tower::visit;

/// A tower with hazards as given, an item of its own on each list.
fn tower(hazards: &str) -> Instrument {
    let row = format!(
        r#"{{"tag":"LT-1","service":"tower","serial":"A1","unit":"ft","riser":"20 ft","riser_from":"tape",
        "site":{{"name":"Sedge Hill","latitude":"40","altitude":"0 m","liquid_temperature":"15 degC","lengths":"ft",
        "hazards":{hazards}}},"liquid":{{"name":"water"}},"span":"20 ft","lrv":"0","urv":"20",
        "limits":{{"lrl":"-50 psi","url":"50 psi","min_span":"1 psi","max_working":"100 psi","accuracy":"0.05 %","zero_allowance":"0.02 psi"}},
        "tolerance":"2 in","trim_rule":"true_at_zero","head_plan":"head_in_offset","safety":["Gate locked behind you"],
        "back":["Gate locked","Valves back as they were; drains and vents closed; no leak",
        "Loop and pump control back in automatic"]}}"#
    );
    serde_json::from_str(&row).unwrap()
}

struct Page {
    draft: Draft,
}

impl Page {
    fn of(hazards: &str) -> Page {
        Page { draft: Draft::begin(tower(hazards), Moment(1_795_600_000_000)) }
    }

    fn items(&self, step: Step) -> Vec<String> {
        let stated = assess(&self.draft).unwrap().together(&self.draft, step);
        stated.into_iter().map(|line| line.label).collect()
    }

    /// Answers the item that begins with these words.
    fn does(&mut self, key: Key, list: &[String], begins: &str) {
        let row = list.iter().position(|item| item.starts_with(begins)).unwrap();
        let spot = Spot::row(key, u32::try_from(row).unwrap());
        self.draft.answers.put(spot, "done".into(), self.draft.begun);
    }
}

#[rstest]
#[case::pit(r#"{"pit":true}"#, "Confined space")]
#[case::zoned(r#"{"zoned":true}"#, "Hazardous area")]
fn what_kills_within_minutes_is_answered_by_itself(#[case] hazards: &str, #[case] begins: &str) {
    let mut page = Page::of(hazards);
    let list = page.draft.instrument.safety.clone();
    page.does(Key::SafetyItem, &list, "Gate");
    assert!(page.items(Step::MakeSafe).is_empty());
    page.does(Key::SafetyItem, &list, begins);
    let items = page.items(Step::MakeSafe);
    assert!(items.len() == list.len() - 2 && !items.iter().any(|item| item.starts_with(begins)), "{items:?}");
}

#[test]
fn a_sites_own_item_for_back_in_service_comes_first_too() {
    let mut page = Page::of("{}");
    let list = page.draft.instrument.back.clone();
    assert!(page.items(Step::BackInService).is_empty());
    page.does(Key::BackItem, &list, "Gate");
    assert_eq!(page.items(Step::BackInService), list[1..]);
}

#[test]
fn one_item_left_is_answered_by_itself() {
    let mut page = Page::of("{}");
    let list = page.draft.instrument.back.clone();
    page.does(Key::BackItem, &list, "Gate");
    page.does(Key::BackItem, &list, "Valves");
    assert!(page.items(Step::BackInService).is_empty());
}

fn stated(draft: &Draft, step: Step) -> Vec<(Key, String)> {
    let stated = assess(draft).unwrap().together(draft, step);
    stated.into_iter().map(|line| (line.spot.key, line.text)).collect()
}

#[rstest]
#[case::with_its_serial("A1", &[(Key::TagMatches, "yes"), (Key::SerialRead, "A1"), (Key::RangeMatches, "yes")])]
#[case::no_serial_in_the_register(" ", &[(Key::TagMatches, "yes"), (Key::RangeMatches, "yes")])]
fn a_plate_as_registered_is_stated(#[case] serial: &str, #[case] lines: &[(Key, &str)]) {
    let mut page = Page::of("{}");
    page.draft.instrument.serial = serial.into();
    let lines: Vec<_> = lines.iter().map(|(key, text)| (*key, (*text).to_owned())).collect();
    assert_eq!(stated(&page.draft, Step::Find), lines);
}

/// A display of 10 ft carries -20 ft by the register, so the riser's 20 ft are taken out by the offset, as planned.
#[rstest]
#[case::as_usual("10.00", "A1", "-20.00", &[Key::OffsetKnown, Key::StandingHeadAt, Key::LineBled, Key::VentLooked])]
#[case::another_unit("10.00", "B9", "-20.00", &[Key::StandingHeadAt, Key::LineBled, Key::VentLooked])]
#[case::nothing_on_record("10.00", "A1", "", &[Key::StandingHeadAt, Key::LineBled, Key::VentLooked])]
#[case::not_read("", "A1", "-20.00", &[])]
fn what_is_as_usual_as_found_is_stated(
    #[case] display: &str,
    #[case] serial: &str,
    #[case] recorded: &str,
    #[case] keys: &[Key],
) {
    let mut page = Page::of("{}");
    page.draft.instrument.offset_on_record = recorded.into();
    for (key, text) in [(Key::Display, display), (Key::SerialRead, serial)] {
        page.draft.answers.put(Spot::of(key), text.into(), page.draft.begun);
    }
    let stated = stated(&page.draft, Step::AsFound);
    assert_eq!(stated.iter().map(|(key, _)| *key).collect::<Vec<_>>(), keys, "{stated:?}");
    let place = stated.iter().find(|(key, _)| *key == Key::StandingHeadAt);
    assert!(place.is_none_or(|(_, text)| text == "head_in_offset"), "{stated:?}");
}

/// The register has no number, and the last visit says what it left.
#[test]
fn an_offset_that_the_last_visit_left_is_stated_too() {
    let mut page = Page::of("{}");
    page.draft.instrument.earlier = vec![Earlier { left: "-20.00 ft".into(), ..visit("2025-11-20", -20.0) }];
    page.draft.answers.put(Spot::of(Key::Display), "10.00".into(), page.draft.begun);
    let stated = stated(&page.draft, Step::AsFound);
    assert!(stated.contains(&(Key::OffsetKnown, "offset_from_record".into())), "{stated:?}");
}
