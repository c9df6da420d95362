//! The table of sensors that could be fitted, as the hub keeps it for its phones.

use std::collections::BTreeMap;

use bodies::{RowsChanged, SensorTable};
use domain::visit::SensorRange;
use hubstore::{Changed, Counted, Meta, Version};

use crate::Error;

/// The setting it is kept under. It counts its changes, and a change is a new number for every phone.
const SETTING: &str = "register.sensors";

/// What putting a table in the place of the one before comes to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SensorsPut {
    /// How many of its rows change.
    pub rows: RowsChanged,
    /// The number of the last change before; 0 where there was none.
    pub before: u64,
    /// The number of this one.
    pub after: u64,
    /// The setting that it stands in, and what is to stand there.
    pub setting: (String, Changed<Option<Vec<u8>>>),
}

/// Returns the table, as [`SensorTable`] writes it, with the number of its last change; none where there never was one.
///
/// # Errors
///
/// What the store says.
pub async fn sensors(store: &impl Meta) -> Result<Option<Counted>, Error> {
    Ok(store.counted(SETTING).await?)
}

/// Returns what putting a table in the place of the one before comes to; none where it says the same.
///
/// # Errors
///
/// What cannot be written as a table.
pub fn would_put_sensors(was: Option<&Counted>, ranges: &[SensorRange]) -> Result<Option<SensorsPut>, Error> {
    let table = SensorTable(ranges.to_vec()).encode()?;
    if was.is_some_and(|was| was.value == table) {
        return Ok(None);
    }
    // Of a table that this version cannot read nobody can say which rows it had.
    let stood = was.and_then(|was| SensorTable::decode(&was.value).ok());
    let rows = rows_changed(&stood.map(|SensorTable(rows)| rows).unwrap_or_default(), ranges);
    let Version(before) = was.map_or(Version::default(), |was| was.version);
    let after = before + 1;
    let is = Counted { version: Version(after), value: table };
    let kept = Changed { was: was.map(Counted::kept), is: Some(is.kept()) };
    Ok(Some(SensorsPut { rows, before, after, setting: (SETTING.to_owned(), kept) }))
}

fn rows_changed(was: &[SensorRange], is: &[SensorRange]) -> RowsChanged {
    let (was, is) = (by_name(was), by_name(is));
    let count = |number: usize| number as u64;
    RowsChanged {
        added: count(is.keys().filter(|name| !was.contains_key(*name)).count()),
        changed: count(is.iter().filter(|(name, row)| was.get(name).is_some_and(|was| was != *row)).count()),
        moved: 0,
        removed: count(was.keys().filter(|name| !is.contains_key(*name)).count()),
    }
}

/// Names are to be unique; where one is not, each of its rows counts all the same.
fn by_name(rows: &[SensorRange]) -> BTreeMap<(&str, usize), &SensorRange> {
    let mut named: BTreeMap<(&str, usize), &SensorRange> = BTreeMap::new();
    for row in rows {
        let name = row.name.as_str();
        let same = named.range((name, 0)..=(name, usize::MAX)).count();
        named.insert((name, same), row);
    }
    named
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range(name: &str, url: &str) -> SensorRange {
        let range = serde_json::json!({ "name": name, "lrl": "-25 kPa", "url": url, "max_working": "10 MPa",
            "accuracy": "0.1 %" });
        serde_json::from_value(range).unwrap()
    }

    #[test]
    fn each_row_counts_once_by_its_name() {
        let was = [range("low", "25 kPa"), range("mid", "60 kPa"), range("high", "100 kPa")];
        let is =
            [range("mid", "62 kPa"), range("low", "25 kPa"), range("most", "1 MPa"), range("low", "9 kPa")];
        let rows = rows_changed(&was, &is);
        assert_eq!(rows, RowsChanged { added: 2, changed: 1, moved: 0, removed: 1 });
    }

    #[test]
    fn the_same_table_is_no_change_and_another_takes_the_next_number() {
        let first = would_put_sensors(None, &[range("low", "25 kPa")]).unwrap().unwrap();
        assert_eq!((first.before, first.after, first.rows.added), (0, 1, 1));
        assert_eq!(first.setting.1.was, None);
        let kept = first.setting.1.is.unwrap();
        let stands = Counted { version: Version(1), value: kept[8..].to_vec() };
        assert_eq!(would_put_sensors(Some(&stands), &[range("low", "25 kPa")]).unwrap(), None);
        let next = would_put_sensors(Some(&stands), &[range("low", "26 kPa")]).unwrap().unwrap();
        assert_eq!((next.before, next.after, next.rows.changed), (1, 2, 1));
        assert_eq!(next.setting.1.was, Some(kept));
    }
}
