//! The names of areas: what stands in them is seen.

use super::{Incoming, Problem};

/// Takes out the rows whose area has a character that cannot be seen; areas that begin with one are the exchange's own.
pub(super) fn settle(incoming: &mut Incoming) {
    let problems = &mut incoming.problems;
    incoming.rows.retain(|row| {
        let good = !row.area.chars().any(char::is_control);
        if !good {
            problems.push(Problem {
                line: row.line,
                tag: row.instrument.tag.clone(),
                column: "area".into(),
                text: "The name of the area has a character that cannot be seen. Write it anew.".into(),
                taken: false,
            });
        }
        good
    });
}
