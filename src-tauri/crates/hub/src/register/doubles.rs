//! Rows that stand in each other's way.

use std::collections::BTreeMap;

use domain::visit::tag;

use super::{Incoming, InstrumentRow, Problem};

/// Takes out rows that have one tag, since nobody can say which is right, and names codes that two rows claim.
pub(super) fn settle(incoming: &mut Incoming) {
    double_tags(incoming);
    shared_codes(incoming);
    incoming.problems.sort();
}

fn double_tags(incoming: &mut Incoming) {
    let mut lines: BTreeMap<String, Vec<u64>> = BTreeMap::new();
    for row in &incoming.rows {
        lines.entry(tag::folded(&row.instrument.tag)).or_default().push(row.line);
    }
    let problems = &mut incoming.problems;
    incoming.rows.retain(|row| {
        let same = lines.get(&tag::folded(&row.instrument.tag)).map_or(&[][..], Vec::as_slice);
        if same.len() < 2 {
            return true;
        }
        let text = format!("Lines {} have this tag, case and separators aside. Leave one in.", listed(same));
        problems.push(problem(row, "tag", text, false));
        false
    });
}

fn shared_codes(incoming: &mut Incoming) {
    let mut lines: BTreeMap<&str, Vec<u64>> = BTreeMap::new();
    for row in &incoming.rows {
        for code in codes(row) {
            lines.entry(code).or_default().push(row.line);
        }
    }
    let mut found = Vec::new();
    for row in &incoming.rows {
        for same in codes(row).into_iter().filter_map(|code| lines.get(code)).filter(|same| same.len() > 1) {
            let text = format!(
                "Lines {} claim one code; scanning it will ask which is meant. Leave the code with one of them.",
                listed(same)
            );
            found.push(problem(row, "codes", text, true));
        }
    }
    incoming.problems.extend(found);
}

fn codes(row: &InstrumentRow) -> Vec<&str> {
    let mut codes: Vec<&str> = row.instrument.codes.iter().map(|code| code.trim()).collect();
    codes.sort_unstable();
    codes.dedup();
    codes
}

fn problem(row: &InstrumentRow, column: &str, text: String, taken: bool) -> Problem {
    Problem { line: row.line, tag: row.instrument.tag.clone(), column: column.into(), text, taken }
}

fn listed(lines: &[u64]) -> String {
    let lines: Vec<String> = lines.iter().map(u64::to_string).collect();
    match lines.split_last() {
        Some((last, rest)) if !rest.is_empty() => format!("{} and {last}", rest.join(", ")),
        _ => lines.concat(),
    }
}
