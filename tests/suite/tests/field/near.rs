//! Finding an instrument without a code: near, by site, on the work list, recent.

use domain::visit::Choice;
use field::view::{Hit, NearView};
use rstest::rstest;
use serde_json::{Value, json};

use crate::desk::Desk;
use crate::records::sign;

/// A desk whose register has these fields in these rows.
fn with(fields: &[(usize, &str, &str)]) -> Desk {
    let desk = Desk::ready();
    let mut file: Value = serde_json::from_slice(kit::register()).unwrap();
    for row in file["instruments"].as_array_mut().unwrap() {
        for field in ["position", "due", "work"] {
            row.as_object_mut().unwrap().remove(field);
        }
    }
    for (row, field, text) in fields {
        file["instruments"][*row][*field] = json!(text);
    }
    let report = desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    assert_eq!(report.problems, []);
    desk
}

fn sites(view: &NearView) -> Vec<(&str, &str, Vec<&str>)> {
    let tags = |hits: &[Hit]| -> Vec<String> { hits.iter().map(|hit| hit.tag.clone()).collect() };
    assert!(view.sites.iter().all(|site| !tags(&site.hits).is_empty()));
    view.sites
        .iter()
        .map(|site| {
            (site.site.as_str(), site.away.as_str(), site.hits.iter().map(|hit| hit.tag.as_str()).collect())
        })
        .collect()
}

/// One thousandth of a degree along a meridian is 111.2 m (pi / 180 x 6 371 009 m / 1000), 364.8 ft.
#[test]
fn what_is_near_comes_first_with_its_distance_in_the_sites_own_unit() {
    let desk = with(&[
        (0, "position", "39.2010, -98.9"),
        (1, "position", "51.4, -104.5"),
        (2, "position", "54.3000, -104.9"),
        (4, "position", "54.3010, -104.9"),
    ]);
    let view = desk.phone.near(Some([39.2, -98.9]), 8.0).unwrap();
    assert_eq!(sites(&view)[0], ("Sedge Hill", "360 ft away", vec!["LT-2041"]));
    assert_eq!(view.message.code, "near.position");
    assert!(view.message.text.contains("within 8 m"), "{:?}", view.message);
    // What the list does not hold, because it has no position or is too far, is said to be there.
    assert!(view.message.text.contains("4 of 5 instruments are listed"), "{:?}", view.message);

    let view = desk.phone.near(Some([54.3, -104.9]), 0.0).unwrap();
    let listed = sites(&view);
    assert_eq!(listed[0], ("Tarn Lane", "0 m away", vec!["LT-4012", "LT-4020"]));
    assert_eq!(view.sites[0].hits[1].beside, "110 m away");
    // 2.9 degrees of latitude and a little to the side: 323 km.
    assert_eq!(listed[1].0, "Cold Ash");
    assert!(listed[1].1.starts_with("32") && listed[1].1.ends_with(" km away"), "{}", listed[1].1);
    // What has no position is not guessed at.
    assert!(listed.iter().all(|(site, ..)| *site != "Tarn Lane boiler house"));
}

#[rstest]
#[case::refused(None, "near.no_position")]
#[case::beyond_the_pole(Some([99.0, 0.0]), "near.no_position")]
#[case::no_number(Some([f64::NAN, 0.0]), "near.no_position")]
#[case::none_in_the_register(Some([39.2, -98.9]), "near.no_positions")]
fn without_a_position_the_sites_are_listed_the_last_used_first(
    #[case] position: Option<[f64; 2]>,
    #[case] code: &str,
) {
    let desk = with(&[]);
    let names = |view: &NearView| view.sites.iter().map(|site| site.site.clone()).collect::<Vec<_>>();
    let view = desk.phone.near(position, 5.0).unwrap();
    assert_eq!(view.message.code, code);
    assert_eq!(names(&view), ["Cold Ash", "Sedge Hill", "Tarn Lane", "Tarn Lane boiler house"]);
    desk.phone.visit_begin("LT-4012", Choice::ByList, "").unwrap();
    assert_eq!(names(&desk.phone.near(position, 5.0).unwrap())[0], "Tarn Lane");
}

/// A desk whose register has so many sites of so many instruments, without positions.
fn many(sites: usize, each: usize) -> Desk {
    let desk = Desk::new();
    let mut file: Value = serde_json::from_slice(kit::register()).unwrap();
    let mut row = file["instruments"][0].clone();
    row.as_object_mut()
        .unwrap()
        .retain(|field, _| !["position", "due", "work", "codes"].contains(&field.as_str()));
    let rows = (0..sites).flat_map(|site| (0..each).map(move |number| (site, number)));
    let rows = rows.map(|(site, number)| {
        let mut row = row.clone();
        row["tag"] = json!(format!("LT-{site:03}-{number:03}"));
        row["site"]["name"] = json!(format!("Site {site:03}"));
        row
    });
    file["instruments"] = rows.collect();
    let report = desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    assert_eq!((report.problems, report.loaded as usize), (vec![], sites * each));
    desk
}

#[test]
fn without_a_position_no_site_is_left_out_and_each_can_be_opened() {
    let desk = many(90, 3);
    let view = desk.phone.near(None, 0.0).unwrap();
    assert_eq!(view.sites.len(), 90);
    assert!(view.sites.iter().all(|site| site.hits.is_empty() && site.holds == "3 instruments"));
    assert!(view.message.remedy.contains("Open a site"), "{:?}", view.message);
    let opened = desk.phone.near_site("Site 089").unwrap();
    let tags: Vec<_> = opened.hits.iter().map(|hit| hit.tag.as_str()).collect();
    assert_eq!((tags, opened.rest.as_str()), (vec!["LT-089-000", "LT-089-001", "LT-089-002"], ""));
    // What a person opened is meant more often than what is elsewhere.
    assert_eq!(first_like(&desk, "LT-09-001"), "LT-089-001");
    // The one used last is open already.
    desk.phone.visit_begin("LT-044-001", Choice::ByTyping, "").unwrap();
    let view = desk.phone.near(None, 0.0).unwrap();
    assert_eq!(
        (view.sites.len(), view.sites[0].site.as_str(), view.sites[0].hits.len()),
        (90, "Site 044", 3)
    );
}

#[test]
fn of_a_large_site_it_is_said_how_many_are_not_listed() {
    let desk = many(1, 260);
    let site = desk.phone.near_site("Site 000").unwrap();
    assert_eq!((site.hits.len(), site.holds.as_str()), (200, "260 instruments"));
    assert_eq!(site.rest, "60 more are at this site. Type part of the tag to find one.");
    assert_eq!(desk.phone.near_site("Nowhere").unwrap().hits, []);
}

/// The desk's day is 2026-11-25.
#[test]
fn the_work_list_has_what_is_due_soon_or_to_be_done_the_most_urgent_first() {
    let desk = with(&[
        (0, "work", "Reads low since the storm"),
        (1, "due", "2026-12-26"),
        (2, "due", "2026-11-20"),
        (2, "work", "Pump was changed"),
        (3, "due", "2026-11-25"),
        (4, "due", "2026-12-27"),
    ]);
    let work = desk.phone.lists().unwrap().work;
    let lines: Vec<_> = work.iter().map(|hit| (hit.tag.as_str(), hit.beside.as_str())).collect();
    assert_eq!(
        lines,
        [
            ("LT-4012", "Overdue since 2026-11-20: Pump was changed"),
            ("LT-5003", "Due today"),
            ("LT-3107", "Due 2026-12-26"),
            ("LT-2041", "Reads low since the storm"),
        ]
    );
    // The list goes with its register.
    desk.phone.register_load(&desk.upload(&without_lists())).unwrap();
    assert_eq!(desk.phone.lists().unwrap().work, []);
}

fn without_lists() -> Vec<u8> {
    let mut file: Value = serde_json::from_slice(kit::register()).unwrap();
    for row in file["instruments"].as_array_mut().unwrap() {
        row.as_object_mut().unwrap().retain(|field, _| field != "due" && field != "work");
    }
    file.to_string().into_bytes()
}

fn first_like(desk: &Desk, typed: &str) -> String {
    desk.phone.search(typed).unwrap().first().map_or_else(String::new, |hit| hit.tag.clone())
}

/// `LT-4010` is one letter away from `LT-4012` and from `LT-4020`; the letters alone say the latter, whose digit lies
/// beside the wrong one on the keys.
#[test]
fn a_search_knows_what_is_due_near_and_visited_though_no_list_was_opened() {
    assert_eq!(first_like(&with(&[]), "LT-4010"), "LT-4020");
    let due = with(&[(2, "due", "2026-11-20")]);
    assert_eq!(first_like(&due, "LT-4010"), "LT-4012");
    // It goes with its register.
    due.phone.register_load(&due.upload(&without_lists())).unwrap();
    assert_eq!(first_like(&due, "LT-4010"), "LT-4020");
    let id = due.phone.visit_begin("LT-4012", Choice::ByCode, "").unwrap().id;
    assert_eq!(first_like(&due, "LT-4010"), "LT-4012");
    due.phone.visit_discard(&id).unwrap();
    assert_eq!(first_like(&due, "LT-4010"), "LT-4020");

    // What was near when it was asked is known, whatever list was opened since.
    let near = with(&[(2, "position", "54.3000, -104.9")]);
    near.phone.near(Some([54.3, -104.9]), 5.0).unwrap();
    near.phone.lists().unwrap();
    assert_eq!(first_like(&near, "LT-4010"), "LT-4012");
}

#[test]
fn recent_has_each_instrument_once_open_visits_first() {
    let desk = Desk::ready();
    assert_eq!(desk.phone.lists().unwrap().recent, []);
    sign(&desk, &kit::known_empty());
    sign(&desk, &kit::dip());
    desk.phone.visit_begin("LT-3107", Choice::ByList, "").unwrap();
    let recent = desk.phone.lists().unwrap().recent;
    let lines: Vec<_> = recent.iter().map(|hit| (hit.tag.as_str(), hit.beside.as_str())).collect();
    assert_eq!(
        lines,
        [("LT-3107", "Open since 25 Nov 2026 11:42"), ("LT-2041", "Visited 25 Nov 2026 11:42")]
    );
}

#[rstest]
#[case::one_number("position", "39.2", "latitude and longitude")]
#[case::turned_round("position", "-98.9127, 39.2043", "latitude and longitude")]
#[case::another_place("position", "19.2, 39.2", "more than a degree")]
#[case::no_date("due", "next week", "2026-11-30")]
fn a_bad_whereabouts_is_named(#[case] field: &str, #[case] text: &str, #[case] says: &str) {
    let desk = Desk::new();
    let mut file: Value = serde_json::from_slice(kit::register()).unwrap();
    file["instruments"][0][field] = json!(text);
    let report = desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap();
    let problem = report.problems.first().unwrap();
    assert_eq!((problem.row, problem.field.as_str()), (1, field));
    assert!(problem.text.contains(says), "{problem:?}");
}
