//! Loading a register: what is good loads, what is bad is named.

use kit::Office;
use rstest::rstest;
use serde_json::{Value, json};

use crate::desk::Desk;

fn demo() -> Value {
    serde_json::from_slice(kit::register()).unwrap()
}

fn load(desk: &Desk, file: &Value) -> field::view::RegisterReport {
    desk.phone.register_load(&desk.upload(file.to_string().as_bytes())).unwrap()
}

#[test]
fn the_invented_utilitys_register_loads_whole() {
    let desk = Desk::ready();
    let home = desk.phone.home().unwrap();
    assert_eq!(home.instruments, u32::try_from(demo()["instruments"].as_array().unwrap().len()).unwrap());
    assert_eq!(home.register, "Marrowby District Water, level instruments, 2026-11-20");
}

#[test]
fn a_register_of_the_hub_that_takes_a_files_place_is_said_until_a_visit_is_begun() {
    let desk = Desk::ready();
    let office = Office::new().unwrap();
    let key = store::TagKey(domain::visit::tag::folded("LT-2041"));
    let row = serde_json::from_str(&desk.phone.ledger().instrument(&key).unwrap().unwrap()).unwrap();
    assert_eq!(desk.phone.home().unwrap().messages, []);
    office.feeds_rows(&desk.phone, &[row]).unwrap();
    let said = desk.phone.home().unwrap().messages;
    assert!(
        said[0].code == "register.replaced" && said[0].text.contains("Marrowby District Water"),
        "{said:?}"
    );
    desk.phone.visit_begin("LT-2041", domain::visit::Choice::ByList, "").unwrap();
    assert_eq!(desk.phone.home().unwrap().messages, []);
}

/// Each fault is put into the second row; the others must load, and the report must name row, tag and field.
#[rstest]
#[case::missing("serial", "serial", Value::Null, "missing")]
#[case::misspelt("serail", "", json!("MW"), "no such field")]
#[case::number_for_text("riser", "riser", json!(14.62), "quotes")]
#[case::no_unit("riser", "riser", json!("14.62"), "Write")]
#[case::not_a_length("span", "span", json!("7..80 m"), "7..80")]
#[case::unknown_unit("unit", "unit", json!("bananas"), "bananas")]
#[case::pipe_without_a_unit("riser_pipe", "riser_pipe.bore", json!({ "bore": "200", "most_flow": "40 L/s" }), "Write")]
#[case::pipe_misspelt("riser_pipe", "riser_pipe.width", json!({ "width": "200 mm" }), "no such field")]
#[case::either_gallon("riser_pipe", "riser_pipe.most_flow", json!({ "bore": "8 in", "most_flow": "500 gpm" }), "Imp gpm")]
#[case::surge_without_a_unit("overpressure", "overpressure.surge", json!({ "surge": "4" }), "Write")]
#[case::other_word("riser_from", "riser_from", json!("guess"), "tape")]
#[case::empty("service", "service", json!("  "), "Nothing is written")]
#[case::two_lines("service", "service", json!("Cold\nAsh"), "one line")]
#[case::wrong_kind("safety_function", "safety_function", json!("yes"), "boolean")]
fn a_bad_row_is_named_and_the_others_load(
    #[case] put: &str,
    #[case] field: &str,
    #[case] value: Value,
    #[case] says: &str,
) {
    let desk = Desk::new();
    let mut file = demo();
    let rows = file["instruments"].as_array_mut().unwrap();
    let row = rows[1].as_object_mut().unwrap();
    if value.is_null() {
        row.remove(put)
    } else {
        row.insert(put.into(), value)
    };
    let others = u32::try_from(rows.len() - 1).unwrap();
    let report = load(&desk, &file);
    assert_eq!(report.loaded, others, "{report:?}");
    let problem = report.problems.first().unwrap();
    assert_eq!((problem.row, problem.tag.as_str()), (2, "LT-3107"));
    if !field.is_empty() {
        assert_eq!(problem.field, field);
    }
    assert!(problem.text.contains(says), "{}", problem.text);
    assert!(desk.phone.instrument("LT-3107").is_err());
    assert!(desk.phone.instrument("LT-2041").is_ok());
}

#[test]
fn a_fault_deep_inside_is_named_by_its_path() {
    let desk = Desk::new();
    let mut file = demo();
    file["instruments"][0]["limits"]["url"] = json!(30);
    file["instruments"][1]["limits"]["max_working"] = json!("6");
    let report = load(&desk, &file);
    let fields: Vec<_> =
        report.problems.iter().map(|problem| (problem.row, problem.field.as_str())).collect();
    assert_eq!(fields, [(1, "limits.url"), (2, "limits.max_working")]);
}

#[test]
fn rows_with_one_tag_are_all_named_and_none_loads() {
    let desk = Desk::new();
    let mut file = demo();
    let mut again = file["instruments"][0].clone();
    again["tag"] = json!("lt 2041");
    file["instruments"].as_array_mut().unwrap().push(again);
    let report = load(&desk, &file);
    let last = u32::try_from(file["instruments"].as_array().unwrap().len()).unwrap();
    let rows: Vec<_> = report.problems.iter().filter(|p| p.field == "tag").map(|p| p.row).collect();
    assert_eq!(rows, [1, last]);
    assert!(report.problems.iter().any(|p| p.text.contains(&format!("1 and {last}"))), "{report:?}");
    assert!(desk.phone.instrument("LT-2041").is_err());
}

#[test]
fn a_code_claimed_twice_is_named_and_both_load() {
    let desk = Desk::new();
    let mut file = demo();
    let code = file["instruments"][0]["codes"][0].clone();
    file["instruments"][1]["codes"] = json!([code]);
    let report = load(&desk, &file);
    let named: Vec<_> = report.problems.iter().map(|p| (p.row, p.field.as_str())).collect();
    assert_eq!(named, [(1, "codes"), (2, "codes")]);
    assert_eq!(usize::try_from(report.loaded).unwrap(), file["instruments"].as_array().unwrap().len());
}

#[rstest]
#[case::nothing(b"")]
#[case::not_json(b"tag;service;serial")]
#[case::cut_short(b"{\"format\":\"headmark-register/1\",\"name\":\"x\",")]
#[case::other_form(b"{\"format\":\"headmark-register/9\",\"name\":\"x\",\"date\":\"\",\"instruments\":[]}")]
#[case::not_a_register(b"[1, 2, 3]")]
#[case::no_rows(b"{\"format\":\"headmark-register/1\",\"name\":\"x\",\"date\":\"\",\"instruments\":[]}")]
#[case::no_good_row(b"{\"format\":\"headmark-register/1\",\"name\":\"x\",\"date\":\"\",\"instruments\":[7]}")]
#[case::not_text(&[0xff, 0xfe, 0x00, 0x01])]
fn a_file_that_is_no_register_changes_nothing(#[case] bytes: &[u8]) {
    let desk = Desk::ready();
    let before = desk.phone.home().unwrap();
    let report = desk.phone.register_load(&desk.upload(bytes)).unwrap();
    assert_eq!(report.loaded, 0);
    assert!(report.text.contains("stays as it was"));
    assert_eq!(desk.phone.home().unwrap(), before);
}

#[test]
fn a_file_with_the_mark_some_editors_write_loads() {
    let desk = Desk::new();
    let bytes = [b"\xef\xbb\xbf".as_slice(), kit::register()].concat();
    assert_eq!(desk.phone.register_load(&desk.upload(&bytes)).unwrap().problems, []);
}
