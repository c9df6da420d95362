//! The register as a table: what is taken, and what is said of what is not.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    clippy::panic,
    reason = "a panic here is the message"
)]

use hub::register::{Incoming, columns, read_file, read_table};
use rstest::rstest;

/// One good instrument, invented.
const ROW: &[(&str, &str)] = &[
    ("tag", "LT-2041"),
    ("service", "Sedge Hill tower level"),
    ("serial", "MW-50-11873"),
    ("codes", "https://id.marrowby.example/i/LT-2041"),
    ("site.name", "Sedge Hill"),
    ("site.latitude", "39.2"),
    ("site.altitude", "412 m"),
    ("site.hazards.zoned", "no"),
    ("site.liquid_temperature", "52 degF"),
    ("site.lengths", "ft"),
    ("liquid.name", "water"),
    ("liquid.drinking", "TRUE"),
    ("unit", "ft"),
    ("riser", "31 ft 4 in"),
    ("riser_from", "drawing"),
    ("span", "26 ft"),
    ("lrv", "0"),
    ("urv", "26"),
    ("limits.lrl", "-30 psi"),
    ("limits.url", "30 psi"),
    ("limits.min_span", "0.6 psi"),
    ("limits.max_working", "60 psi"),
    ("limits.accuracy", "0.05 %"),
    ("limits.zero_allowance", "0.02 psi"),
    ("tolerance", "1 1/2 in"),
    ("trim_rule", ""),
    ("head_plan", "head_in_offset"),
    ("tapes.1.id", "Tape M-14"),
    ("tapes.1.uncertainty", "2 mm"),
    ("tapes.2.id", "Tape M-09"),
    ("tapes.2.uncertainty", "3 mm"),
    ("area", "north"),
];

fn cell(text: &str, separator: char) -> String {
    if text.contains([separator, '"', '\n']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.into()
    }
}

fn table(rows: &[&[(&str, &str)]], separator: char) -> String {
    let names: Vec<&str> = ROW.iter().map(|(name, _)| *name).collect();
    let mut text = names.join(&separator.to_string());
    for changes in rows {
        let cells = ROW.iter().map(|(name, usual)| {
            let changed = changes.iter().find(|(changed, _)| changed == name);
            cell(changed.map_or(usual, |(_, value)| value), separator)
        });
        text.push_str("\r\n");
        text.push_str(&cells.collect::<Vec<_>>().join(&separator.to_string()));
    }
    text
}

fn read(text: &str) -> Incoming {
    read_table(text.as_bytes(), Some("area"))
}

#[rstest]
#[case::commas(',', "")]
#[case::semicolons(';', "")]
#[case::with_a_mark(',', "\u{feff}")]
fn a_good_table_is_taken_whole(#[case] separator: char, #[case] mark: &str) {
    let codes = [("codes", "one; two ;three"), ("service", "Tower, \"north\"\nside")];
    let one_line = [("tag", "LT 3107"), ("codes", "")];
    let text = mark.to_owned() + &table(&[&codes[..1], &one_line], separator);
    let incoming = read(&text);
    assert_eq!(incoming.problems, []);
    let [first, second] = &incoming.rows[..] else { panic!("two rows") };
    assert_eq!(first.instrument.codes, ["one", "two", "three"]);
    assert!(first.instrument.liquid.drinking && !first.instrument.site.hazards.zoned);
    assert!(first.instrument.site.hazards.phone_allowed, "what is not said is as in a register's own file");
    assert_eq!(first.instrument.tapes[1].id, "Tape M-09");
    assert_eq!((first.area.as_str(), second.line), ("north", 3));
    assert_eq!(second.instrument.trim_rule, "");
}

#[rstest]
#[case::a_number_without_its_unit(&[("riser", "31.5")], "riser")]
#[case::a_flag_that_is_none(&[("liquid.drinking", "perhaps")], "liquid.drinking")]
#[case::no_serial(&[("serial", "")], "serial")]
#[case::limits_upside_down(&[("limits.lrl", "40 psi")], "limits.url")]
#[case::an_unknown_rule(&[("trim_rule", "as usual")], "trim_rule")]
#[case::a_line_break_in_a_line(&[("service", "Sedge\nHill")], "service")]
fn a_bad_cell_is_named_by_line_and_column(#[case] changes: &[(&str, &str)], #[case] column: &str) {
    let other = [("tag", "LT-3107"), ("codes", "")];
    let incoming = read(&table(&[&other, changes], ','));
    assert_eq!(incoming.rows.len(), 1, "the good line stands");
    assert!(!incoming.is_good());
    let found: Vec<_> =
        incoming.problems.iter().map(|problem| (problem.line, problem.column.as_str())).collect();
    assert_eq!(found, [(3, column)]);
    assert_eq!(incoming.problems[0].tag, "LT-2041");
}

#[test]
fn lines_are_counted_as_an_editor_counts_them() {
    let broken = [("adjust_note", "x"), ("serial", "")];
    let before = [("tag", "LT-1"), ("codes", ""), ("site.hazards.note", "x")];
    let text =
        table(&[&before, &broken], ',').replace("LT-1,Sedge Hill tower level", "LT-1,\"Sedge\r\nHill\"");
    let incoming = read(&text);
    let lines: Vec<_> =
        incoming.problems.iter().map(|problem| (problem.line, problem.column.as_str())).collect();
    assert_eq!(lines, [(2, "service"), (4, "serial")], "line 2 is broken in two, so the next begins at 4");
}

#[test]
fn every_bad_cell_of_a_line_is_named() {
    let bad = [("riser", "31.5"), ("span", "?"), ("serial", "")];
    let incoming = read(&table(&[&bad], ','));
    let columns: Vec<_> = incoming.problems.iter().map(|problem| problem.column.as_str()).collect();
    assert_eq!(columns, ["riser", "serial", "span"]);
}

#[test]
fn one_tag_on_two_lines_is_refused_and_one_code_on_two_lines_is_named() {
    let incoming =
        read(&table(&[&[("tag", "lt 2041")], &[], &[("tag", "LT-3107")], &[("tag", "LT-3108")]], ','));
    assert_eq!(incoming.rows.len(), 2);
    let found: Vec<_> = incoming.problems.iter().map(|p| (p.line, p.column.as_str(), p.taken)).collect();
    assert_eq!(found, [(2, "tag", false), (3, "tag", false), (4, "codes", true), (5, "codes", true)]);
}

#[rstest]
#[case::misspelt("service", "servise", &["service", "servise"])]
#[case::a_bare_n("tapes.1.id", "tapes.N.id", &["tapes.N.id"])]
#[case::twice("tapes.1.id", "tag", &["tag"])]
#[case::no_area("area", "region", &["area", "region"])]
fn a_wrong_first_line_refuses_the_table(#[case] from: &str, #[case] to: &str, #[case] columns: &[&str]) {
    let text = table(&[&[]], ',');
    let (head, rest) = text.split_once("\r\n").unwrap();
    let head: Vec<&str> = head.split(',').map(|name| if name == from { to } else { name }).collect();
    let incoming = read(&format!("{}\r\n{rest}", head.join(",")));
    assert_eq!(incoming.rows, []);
    let found: Vec<_> =
        incoming.problems.iter().map(|problem| (problem.line, problem.column.as_str())).collect();
    assert_eq!(found, columns.iter().map(|column| (1, *column)).collect::<Vec<_>>());
}

#[test]
fn what_is_no_utf_8_is_named_and_the_rest_stands() {
    let mut text = table(&[&[], &[("tag", "LT-3107"), ("codes", "")]], ',').into_bytes();
    let at = text.windows(10).position(|bytes| bytes == b"Sedge Hill").unwrap();
    text[at] = 0xe9;
    let incoming = read_table(&text, Some("area"));
    assert_eq!(incoming.rows.len(), 1);
    assert_eq!((incoming.problems[0].line, incoming.problems[0].column.as_str()), (2, "service"));
    assert!(incoming.problems[0].to_string().starts_with("Line 2, column service: "));
}

#[rstest]
#[case::nothing("")]
#[case::names_alone("tag,service")]
#[case::words("Dear all,\nplease find attached")]
fn what_is_no_table_is_refused_with_words(#[case] text: &str) {
    let incoming = read_table(text.as_bytes(), None);
    assert_eq!(incoming.rows, []);
    assert!(!incoming.is_good());
}

/// The demo's register, as a phone loads it.
fn demo() -> String {
    let path = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../../../demo/data/register.json");
    std::fs::read_to_string(path).unwrap()
}

#[test]
fn an_area_with_a_character_that_cannot_be_seen_is_named() {
    let incoming = read(&table(&[&[("area", "Sedge\u{1}Hill")]], ','));
    assert!(!incoming.is_good());
    assert_eq!(incoming.problems[0].column, "area");
}

#[test]
fn a_registers_own_file_is_taken_too() {
    let incoming = read_file(demo().as_bytes(), Some("site.name"));
    assert_eq!(incoming.problems, []);
    assert_eq!((incoming.rows.len(), incoming.sensor_ranges.len() > 1), (5, true));
    assert_eq!(incoming.rows[0].area, "Sedge Hill");
    let bad = demo().replacen("31 ft 4 in", "31", 1);
    let incoming = read_file(bad.as_bytes(), None);
    assert_eq!(incoming.rows.len(), 4);
    assert_eq!((incoming.problems[0].line, incoming.problems[0].column.as_str()), (1, "riser"));
}

/// Every field of a register's own file has its column: a row with all of them comes through a table unchanged.
#[test]
fn the_documented_columns_are_those_that_are_read() {
    let text = include_str!("../REGISTER-CSV.md");
    for column in columns() {
        let documented = text.contains(&format!("`{}`", column.name))
            || column.name.starts_with("mounting.light.") && text.contains("the same under `mounting.light`");
        assert!(documented, "{} is not in REGISTER-CSV.md", column.name);
    }
}

#[test]
fn an_instrument_of_the_demo_comes_through_a_table_unchanged() {
    let demo: serde_json::Value = serde_json::from_str(&demo()).unwrap();
    for fields in demo["instruments"].as_array().unwrap() {
        let mut cells = Vec::new();
        flatten("", fields, &mut cells);
        for needed in columns().iter().filter(|column| column.needed) {
            if !cells.iter().any(|(name, _)| name == needed.name) {
                cells.push((needed.name.to_owned(), String::new()));
            }
        }
        let names: Vec<_> = cells.iter().map(|(name, _)| name.clone()).collect();
        let values: Vec<_> = cells.iter().map(|(_, value)| cell(value, ',')).collect();
        let incoming = read_table(format!("{}\n{}", names.join(","), values.join(",")).as_bytes(), None);
        assert_eq!(incoming.problems, []);
        let direct: domain::visit::Instrument = serde_json::from_value(fields.clone()).unwrap();
        assert_eq!(incoming.rows[0].instrument, direct);
    }
}

fn flatten(name: &str, value: &serde_json::Value, out: &mut Vec<(String, String)>) {
    let under = |part: &str| if name.is_empty() { part.to_owned() } else { format!("{name}.{part}") };
    match value {
        serde_json::Value::Object(fields) => {
            fields.iter().for_each(|(part, value)| flatten(&under(part), value, out))
        }
        serde_json::Value::Array(items) if items.iter().all(|item| item.is_string()) => {
            let items: Vec<_> = items.iter().map(|item| item.as_str().unwrap()).collect();
            out.push((name.into(), items.join(";")));
        }
        serde_json::Value::Array(items) => {
            (1..).zip(items).for_each(|(at, item)| flatten(&under(&format!("{at}")), item, out));
        }
        serde_json::Value::String(text) => out.push((name.into(), text.clone())),
        other => out.push((name.into(), other.to_string())),
    }
}
