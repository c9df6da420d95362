//! What putting rows into the register changes.

use std::collections::BTreeMap;

use crate::{Change, Put, Row, Rows, Version};

/// Compares rows with what stands and numbers what changes. `standing` has to hold the rows of all tags that are named,
/// and all rows where the whole register is put in.
pub(crate) fn diff(standing: &BTreeMap<String, Row>, rows: Rows, version: Version) -> (Vec<Change>, Put) {
    let mut diff = Diff { changes: Vec::new(), put: Put { version, ..Put::default() } };
    match rows {
        Rows::Some(rows) => diff.put_in(standing, &by_tag(rows)),
        Rows::All(rows) => {
            let rows = by_tag(rows);
            let gone = standing.values().filter(|row| !rows.contains_key(&row.tag));
            gone.for_each(|row| diff.remove(row));
            diff.put_in(standing, &rows);
        }
        Rows::Remove(tags) => {
            let tags: std::collections::BTreeSet<String> = tags.into_iter().collect();
            tags.iter().filter_map(|tag| standing.get(tag)).for_each(|row| diff.remove(row));
        }
    }
    (diff.changes, diff.put)
}

fn by_tag(rows: Vec<Row>) -> BTreeMap<String, Row> {
    rows.into_iter().map(|row| (row.tag.clone(), row)).collect()
}

struct Diff {
    changes: Vec<Change>,
    put: Put,
}

impl Diff {
    fn put_in(&mut self, standing: &BTreeMap<String, Row>, rows: &BTreeMap<String, Row>) {
        for row in rows.values() {
            match standing.get(&row.tag) {
                Some(stood) if stood == row => {
                    self.put.same += 1;
                    continue;
                }
                Some(stood) if stood.area == row.area => self.put.changed += 1,
                Some(stood) => {
                    self.put.moved += 1;
                    self.change(&stood.area, &stood.tag, None);
                }
                None => self.put.added += 1,
            }
            self.change(&row.area, &row.tag, Some(row.bytes.clone()));
        }
    }

    fn remove(&mut self, row: &Row) {
        self.put.removed += 1;
        self.change(&row.area, &row.tag, None);
    }

    fn change(&mut self, area: &str, tag: &str, row: Option<Vec<u8>>) {
        self.put.version = Version(self.put.version.0 + 1);
        self.changes.push(Change { version: self.put.version, area: area.into(), tag: tag.into(), row });
    }
}
