//! The register as the hub feeds it, by pages.
#![allow(
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::panic,
    missing_docs,
    reason = "a panic here is the message"
)]

mod people;

use std::collections::BTreeMap;

use bodies::{Epoch, PersonId, RegisterRow, SensorTable, Visit};
use domain::visit::Instrument;
use exchange::message::{self, Answer, PROTOCOL, Welcome};
use exchange::page::{Named, PEOPLE, Page, SENSORS, SignedPage, Upsert};
use exchange::session::{Ledger, ROUND, Route, Session, Step, Taken};
use people::{EPOCH, Phone};
use proptest::prelude::*;
use record::{SecretKey, Strict};
use store::{Applied, Error, InstrumentRow, RegisterName, SENSOR_RANGES, Store, TagKey};

/// An instrument of the frozen example, under another tag.
fn instrument(tag: &str, serial: &str) -> Instrument {
    let example = include_bytes!("../../../../tests/suite/wire/v2/visit.headmark");
    let export = record::read_export(example).unwrap();
    let row = Visit::of_entry(&export.entries[0]).unwrap().finished.instrument;
    Instrument { tag: tag.into(), serial: serial.into(), codes: vec![format!("code of {tag}")], ..row }
}

fn page(area: &str, from: u64, to: u64, rows: &[(&str, &str)], removals: &[&str]) -> Page {
    let upsert = |(tag, serial): &(&str, &str)| Upsert {
        tag: (*tag).into(),
        row: RegisterRow(instrument(tag, serial)).encode().unwrap().into(),
    };
    Page {
        epoch: EPOCH,
        area: area.into(),
        from,
        to,
        snapshot: from == 0,
        upserts: rows.iter().map(upsert).collect(),
        removals: removals.iter().map(|tag| (*tag).to_owned()).collect(),
        sensors: None,
        people: None,
    }
}

/// Tags and serial numbers that are there.
fn rows(phone: &Phone) -> Vec<(String, String)> {
    phone.store.listed().unwrap().into_iter().map(|listed| (listed.tag, listed.serial)).collect()
}

fn named(rows: &[(&str, &str)]) -> Vec<(String, String)> {
    rows.iter().map(|(tag, serial)| ((*tag).to_owned(), (*serial).to_owned())).collect()
}

#[test]
fn a_page_applies_only_where_it_starts_from_what_is_here() {
    let phone = Phone::new();
    let apply = |page: &Page| phone.store.apply_page(page).unwrap();
    assert_eq!(apply(&page("north", 3, 4, &[("LT-1", "a")], &[])), Applied::OutOfStep(0));
    assert_eq!(apply(&page("north", 0, 4, &[("LT-1", "a"), ("LT-2", "a")], &[])), Applied::Now);
    assert_eq!(apply(&page("north", 5, 6, &[], &["LT-1"])), Applied::OutOfStep(4));
    assert_eq!(apply(&page("north", 4, 5, &[("LT-1", "b")], &["lt 2"])), Applied::Now);
    assert_eq!(apply(&page("north", 4, 5, &[("LT-1", "c")], &[])), Applied::Before);
    assert_eq!(rows(&phone), named(&[("LT-1", "b")]));
    assert_eq!(phone.store.tags_of_code("code of LT-1").unwrap(), ["LT-1"]);
    assert_eq!(phone.store.tags_of_code("code of LT-2").unwrap(), [""; 0]);
    let name = phone.store.register_name().unwrap().unwrap();
    assert_eq!((name.name.as_str(), name.dated.as_str()), ("From the hub: north", "version 5"));
}

#[test]
fn a_register_without_areas_stays_when_a_page_of_it_or_of_another_area_came() {
    let phone = Phone::new();
    for (page, there) in [
        (page("", 0, 2, &[("LT-1", "a"), ("LT-2", "a")], &[]), vec![("LT-1", "a"), ("LT-2", "a")]),
        (page("", 2, 3, &[("LT-3", "a")], &["LT-2"]), vec![("LT-1", "a"), ("LT-3", "a")]),
        (page("north", 0, 1, &[("LT-4", "a")], &[]), vec![("LT-1", "a"), ("LT-3", "a"), ("LT-4", "a")]),
    ] {
        assert_eq!(phone.store.apply_page(&page).unwrap(), Applied::Now);
        assert_eq!(rows(&phone), named(&there));
    }
}

#[test]
fn a_move_between_areas_is_whole_whichever_page_comes_first() {
    for leaving_first in [true, false] {
        let phone = Phone::new();
        phone.store.apply_page(&page("north", 0, 1, &[("LT-1", "a")], &[])).unwrap();
        phone.store.apply_page(&page("south", 0, 1, &[("LT-9", "a")], &[])).unwrap();
        let mut pages = [page("north", 1, 2, &[], &["LT-1"]), page("south", 1, 2, &[("LT-1", "a")], &[])];
        if !leaving_first {
            pages.reverse();
        }
        pages.iter().for_each(|page| assert_eq!(phone.store.apply_page(page).unwrap(), Applied::Now));
        assert_eq!(rows(&phone), named(&[("LT-1", "a"), ("LT-9", "a")]));
        // The area that it left begins anew: what moved on stays.
        phone.store.apply_page(&page("north", 0, 9, &[("LT-5", "a")], &[])).unwrap();
        assert_eq!(rows(&phone), named(&[("LT-1", "a"), ("LT-5", "a"), ("LT-9", "a")]));
    }
}

#[test]
fn the_table_of_sensors_comes_whole_and_names_no_area() {
    let phone = Phone::new();
    let sensors = |version, names: &[&str]| {
        let range = |name: &&str| {
            serde_json::json!({ "name": name, "lrl": "-25 kPa", "url": "25 kPa",
            "max_working": "10 MPa", "accuracy": "0.1 %" })
        };
        let ranges = names.iter().map(|name| serde_json::from_value(range(name)).unwrap()).collect();
        let sensors = Some(SensorTable(ranges).encode().unwrap().into());
        Page { snapshot: true, sensors, ..page(SENSORS, 0, version, &[], &[]) }
    };
    let there = || {
        let table = phone.store.setting(SENSOR_RANGES).unwrap().unwrap();
        let ranges: Vec<domain::visit::SensorRange> = serde_json::from_str(&table).unwrap();
        ranges.into_iter().map(|range| range.name).collect::<Vec<_>>()
    };
    phone.store.apply_page(&page("north", 0, 4, &[("LT-1", "a")], &[])).unwrap();
    assert_eq!(phone.store.apply_page(&sensors(1, &["low", "high"])).unwrap(), Applied::Now);
    assert_eq!(there(), ["low", "high"]);
    assert_eq!(phone.store.apply_page(&sensors(2, &["high"])).unwrap(), Applied::Now);
    assert_eq!(phone.store.apply_page(&sensors(1, &["low"])).unwrap(), Applied::Before);
    assert_eq!((there(), rows(&phone)), (vec!["high".to_owned()], named(&[("LT-1", "a")])));
    assert_eq!(phone.store.register_name().unwrap().unwrap().name, "From the hub: north");
    let unreadable = Page { sensors: Some(vec![0xa1, 9, 0].into()), ..sensors(3, &[]) };
    assert_eq!(
        phone.store.apply_page(&unreadable).unwrap(),
        Applied::Now,
        "the one here stays, and it is told"
    );
    assert_eq!(unread(&phone), ["the table of sensors that could be fitted"]);
    assert_eq!(there(), ["high"]);
    let gone = page(SENSORS, 0, 0, &[], &[]);
    assert_eq!(phone.store.apply_page(&gone).unwrap(), Applied::Now);
    assert!(there().is_empty());
}

#[test]
fn a_file_and_a_feed_do_not_mix_in_silence() {
    let phone = Phone::new();
    let name = RegisterName { name: "Marrowby District Water".into(), dated: "2026-03-02".into() };
    let row = || InstrumentRow::of(&instrument("LT-7", "file")).unwrap();
    phone.store.load_register(&name, [row()]).unwrap();
    assert_eq!((phone.store.is_fed().unwrap(), phone.store.replaced_register().unwrap()), (false, None));
    phone.store.apply_page(&page("north", 0, 1, &[("LT-1", "hub")], &[])).unwrap();
    assert_eq!(rows(&phone), named(&[("LT-1", "hub")]));
    let replaced = phone.store.replaced_register().unwrap();
    assert_eq!(replaced.as_deref(), Some("Marrowby District Water, 2026-03-02"));
    phone.store.seen_replaced().unwrap();
    assert_eq!(phone.store.replaced_register().unwrap(), None);
    let error = phone.store.load_register(&name, [row()]).unwrap_err();
    assert!(matches!(error, Error::Fed), "{error}");
    assert_eq!(rows(&phone), named(&[("LT-1", "hub")]));
}

#[test]
fn another_epoch_begins_anew() {
    let phone = Phone::new();
    phone.store.apply_page(&page("north", 0, 8, &[("LT-1", "a"), ("LT-2", "a")], &[])).unwrap();
    let later = Epoch([0xe2; 16]);
    let follows = Page { epoch: later, ..page("north", 8, 9, &[("LT-3", "b")], &[]) };
    assert_eq!(phone.store.apply_page(&follows).unwrap(), Applied::OutOfStep(0));
    let snapshot = Page { epoch: later, ..page("north", 0, 2, &[("LT-3", "b")], &[]) };
    assert_eq!(phone.store.apply_page(&snapshot).unwrap(), Applied::Now);
    assert_eq!(rows(&phone), named(&[("LT-3", "b")]));
}

/// A page with one more row, which no version knows.
fn with_unreadable(page: Page, tag: &str) -> Page {
    let mut upserts = page.upserts;
    upserts.push(Upsert { tag: tag.into(), row: vec![0xa1, 0x19, 0x03, 0xe7, 0x01].into() });
    Page { upserts, ..page }
}

fn unread(phone: &Phone) -> Vec<String> {
    phone.store.unread_rows().unwrap().tags.into_iter().collect()
}

#[test]
fn a_row_that_cannot_be_read_stops_nothing_else_and_is_told() {
    let phone = Phone::new();
    let apply = |page: &Page| phone.store.apply_page(page).unwrap();
    apply(&page("north", 0, 1, &[("LT-1", "a"), ("LT-2", "a")], &[]));
    assert_eq!(unread(&phone), [""; 0]);
    let bad = with_unreadable(page("north", 1, 2, &[("LT-1", "b")], &[]), "LT-2");
    let bad = with_unreadable(bad, "LT-3");
    let good = page("south", 0, 1, &[("LT-9", "a")], &[]);
    let hub = phone.hub.log().of_record();
    let pages = [bad, good].into_iter().map(|page| SignedPage { hub, page }).collect();
    let taken =
        Taken { epoch: EPOCH, keys: vec![], entries: vec![], pages, news: Some(4), given_back: false };
    assert_eq!(Ledger::take(&phone.store, &taken).unwrap().pages, 2);
    // What can be read is in; of the others stays what stood here before, or nothing.
    assert_eq!(rows(&phone), named(&[("LT-1", "b"), ("LT-2", "a"), ("LT-9", "a")]));
    let marks = phone.store.marks().unwrap();
    assert_eq!((marks.news, marks.areas[0].version, marks.areas[1].version), (4, 2, 1));
    assert_eq!(unread(&phone), ["LT-2", "LT-3"]);
    // A row that can be read again, or is gone, is told no longer.
    apply(&page("north", 2, 3, &[("LT-2", "c")], &["LT-3"]));
    assert_eq!(unread(&phone), [""; 0]);
}

#[test]
fn another_version_asks_again_for_what_this_one_could_not_read() {
    let phone = Phone::new();
    let snapshot = page("north", 0, 7, &[("LT-1", "a")], &[]);
    phone.store.apply_page(&with_unreadable(snapshot.clone(), "LT-2")).unwrap();
    phone.store.apply_page(&page("south", 0, 3, &[("LT-9", "a")], &[])).unwrap();
    let versions =
        || -> Vec<u64> { phone.store.marks().unwrap().areas.iter().map(|cursor| cursor.version).collect() };
    assert_eq!(versions(), [7, 3]);
    // As an older version would have left it.
    phone.store.set(&[("feed.unread.north", "0.0.1\nLT-2")]).unwrap();
    assert_eq!(versions(), [0, 3], "the area begins anew, and no other");
    let follows = page("north", 7, 8, &[], &[]);
    assert_eq!(phone.store.apply_page(&follows).unwrap(), Applied::OutOfStep(0));
    let readable =
        Page { upserts: page("north", 0, 7, &[("LT-1", "a"), ("LT-2", "a")], &[]).upserts, ..snapshot };
    assert_eq!(phone.store.apply_page(&readable).unwrap(), Applied::Now);
    assert_eq!((versions(), unread(&phone)), (vec![7, 3], vec![]));
    assert_eq!(rows(&phone), named(&[("LT-1", "a"), ("LT-2", "a"), ("LT-9", "a")]));
}

#[test]
fn an_area_without_a_readable_row_names_so_many_and_says_that_there_are_more() {
    let phone = Phone::new();
    let all = (0..450)
        .fold(page("north", 0, 9, &[], &[]), |page, at| with_unreadable(page, &format!("LT-{at:03}")));
    phone.store.apply_page(&all).unwrap();
    let told = phone.store.unread_rows().unwrap();
    assert_eq!((told.tags.len(), told.more), (200, true));
    phone.store.apply_page(&page("north", 0, 0, &[], &[])).unwrap();
    assert_eq!(phone.store.unread_rows().unwrap(), store::UnreadRows::default(), "the area is gone");
}

/// A phone in the middle of a session with its hub, which has said what it wants: nothing.
fn greeted<'p>(phone: &'p Phone) -> Session<'p, Store, SecretKey, Strict> {
    let mut session = Session::new(&phone.store, &phone.own.key, &Strict, ROUND);
    session.begin().unwrap();
    let welcome = Welcome {
        protocol: PROTOCOL,
        epoch: EPOCH,
        session: [1; 32],
        wanted: vec![],
        keys: vec![],
        trust: vec![],
    };
    let step = session.answered(&message::write(&welcome).unwrap()).unwrap();
    assert!(matches!(step, Step::Ask { route: Route::Push, .. }));
    session
}

fn answer(phone: &Phone, news: u64, page: &Page) -> Vec<u8> {
    let answer = Answer {
        session: [2; 32],
        refused: vec![],
        wanted: vec![],
        keys: vec![],
        entries: vec![],
        news,
        pages: vec![page.sign(&phone.hub.key).unwrap().into()],
        more: true,
    };
    message::write(&answer).unwrap()
}

#[test]
fn a_session_goes_on_past_a_row_that_cannot_be_read() {
    let phone = Phone::new();
    let mut session = greeted(&phone);
    let bad = with_unreadable(page("north", 0, 1, &[], &[]), "LT-2");
    let step = session.answered(&answer(&phone, 0, &bad)).unwrap();
    assert!(matches!(step, Step::Ask { .. }), "the page moved the register, so the rest is asked for");
    let rest = page("north", 1, 2, &[("LT-1", "a")], &[]);
    assert!(matches!(session.answered(&answer(&phone, 0, &rest)).unwrap(), Step::Ask { .. }));
    assert_eq!(rows(&phone), named(&[("LT-1", "a")]));
}

#[test]
fn a_session_ends_where_a_hub_says_more_and_gives_what_is_of_no_use() {
    let phone = Phone::new();
    let mut session = greeted(&phone);
    let out_of_step = page("north", 5, 6, &[("LT-1", "a")], &[]);
    let Step::Done(summary) = session.answered(&answer(&phone, 0, &out_of_step)).unwrap() else {
        panic!("it would be given again for ever")
    };
    assert_eq!((summary.rounds, summary.pages), (2, 0));
    // News that went on are of use.
    let mut session = greeted(&phone);
    assert!(matches!(session.answered(&answer(&phone, 9, &out_of_step)).unwrap(), Step::Ask { .. }));
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    /// Pages come twice, out of order, of two areas; the model keeps what each area's own pages say.
    #[test]
    fn the_register_is_what_the_pages_in_step_say(
        steps in proptest::collection::vec((0..2usize, 0..5u64, 0..4usize, any::<bool>()), 1..40)
    ) {
        let phone = Phone::new();
        let areas = ["north", "south"];
        let mut versions = [None::<u64>; 2];
        let mut model: BTreeMap<String, (usize, String)> = BTreeMap::new();
        for (number, (area, from, tag, upsert)) in steps.into_iter().enumerate() {
            let tag = format!("LT-{tag}");
            let serial = format!("s{number}");
            let (rows, gone) = if upsert { (vec![(tag.as_str(), serial.as_str())], vec![]) } else { (vec![], vec![tag.as_str()]) };
            let page = page(areas[area], from, from + 1, &rows, &gone);
            let applied = phone.store.apply_page(&page).unwrap();
            let at = versions[area];
            let expected = match at {
                Some(version) if from < version => Applied::Before,
                _ if from == 0 || at == Some(from) => Applied::Now,
                _ => Applied::OutOfStep(at.unwrap_or(0)),
            };
            prop_assert_eq!(applied, expected);
            if applied != Applied::Now {
                continue;
            }
            versions[area] = Some(from + 1);
            if from == 0 {
                model.retain(|_, (of, _)| *of != area);
            }
            if upsert {
                model.insert(tag, (area, serial));
            } else if model.get(&tag).is_some_and(|(of, _)| *of == area) {
                model.remove(&tag);
            }
        }
        let expected: Vec<(String, String)> = model.iter().map(|(tag, (_, serial))| (tag.clone(), serial.clone())).collect();
        prop_assert_eq!(rows(&phone), expected);
        for tag in model.keys() {
            prop_assert!(phone.store.instrument(&TagKey(tag.clone())).unwrap().is_some());
            prop_assert_eq!(phone.store.tags_of_code(&format!("code of {tag}")).unwrap(), vec![tag.clone()]);
        }
    }
}

fn people(to: u64, names: &[(u8, &str)]) -> Page {
    let named = |(number, name): &(u8, &str)| Named { person: PersonId([*number; 16]), name: (*name).into() };
    Page { people: Some(names.iter().map(named).collect()), ..page(PEOPLE, 0, to, &[], &[]) }
}

#[test]
fn names_of_people_stand_beside_a_register_from_a_file_and_are_whole_each_time() {
    let phone = Phone::new();
    let file = RegisterName { name: "Marrowby".into(), dated: "2026-11-01".into() };
    let row = InstrumentRow::of(&instrument("LT-1", "a")).unwrap();
    phone.store.load_register(&file, [row]).unwrap();
    assert_eq!(phone.store.people().unwrap(), None);
    assert_eq!(phone.store.apply_page(&people(2, &[(1, "Asha"), (2, "Ben")])).unwrap(), Applied::Now);
    let names = |phone: &Phone| phone.store.people().unwrap().unwrap().into_values().collect::<Vec<_>>();
    assert_eq!(names(&phone), ["Asha", "Ben"]);
    assert_eq!((phone.store.register_name().unwrap(), phone.store.is_fed().unwrap()), (Some(file), false));
    assert_eq!(rows(&phone), named(&[("LT-1", "a")]));
    // What is older, whenever it comes, brings no name back.
    assert_eq!(phone.store.apply_page(&people(4, &[(2, "Ben")])).unwrap(), Applied::Now);
    assert_eq!(phone.store.apply_page(&people(2, &[(1, "Asha"), (2, "Ben")])).unwrap(), Applied::Before);
    assert_eq!(names(&phone), ["Ben"]);
    let nameless = Page { people: None, ..people(5, &[]) };
    assert_eq!(phone.store.apply_page(&nameless).unwrap(), Applied::OutOfStep(4));
    assert_eq!(names(&phone), ["Ben"]);
    let at: Vec<_> = Ledger::marks(&phone.store).unwrap().areas;
    assert_eq!(at.iter().map(|cursor| cursor.area.as_str()).collect::<Vec<_>>(), [PEOPLE]);
}
