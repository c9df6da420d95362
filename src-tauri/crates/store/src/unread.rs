//! Rows of the hub's register that this version cannot read.
//!
//! A page is applied without them, and the feed goes on. Which they are is kept, so that a person can be told; and with the
//! version of the app, because another one may read them: its area then begins anew, and they come again.

use std::collections::BTreeSet;

use rusqlite::Connection;

use crate::{Error, Store, settings};

/// What the names of the settings begin with; the area follows.
const UNREAD: &str = "feed.unread.";
/// The version of the app.
const VERSION: &str = env!("CARGO_PKG_VERSION");
/// The most tags that are kept of an area.
const MOST: usize = 200;
/// Stands behind the version where there were more.
const MORE: &str = " and more";

/// Instruments whose newest row of the register cannot be read here.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct UnreadRows {
    /// Their tags.
    pub tags: BTreeSet<String>,
    /// Whether there are more than those.
    pub more: bool,
}

impl Store {
    /// Returns the instruments of which the hub's register has a row that this version cannot read.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when that is not as it was written, and what storage gives.
    pub fn unread_rows(&self) -> Result<UnreadRows, Error> {
        self.read(|connection| {
            let mut all = UnreadRows::default();
            for (_, value) in settings::beginning_with(connection, UNREAD)? {
                let (_, of_area) = read(&value);
                all.tags.extend(of_area.tags);
                all.more |= of_area.more;
            }
            Ok(all)
        })
    }
}

/// What a page says of the rows of an area.
pub(crate) struct Told<'p> {
    /// What was kept of the area before means nothing any more.
    pub(crate) anew: bool,
    /// Tags of rows that were read, or are gone.
    pub(crate) settled: BTreeSet<&'p str>,
    /// Tags of rows that cannot be read.
    pub(crate) unread: BTreeSet<&'p str>,
}

/// Keeps what a page says.
pub(crate) fn keep(connection: &Connection, area: &str, told: &Told<'_>) -> Result<(), Error> {
    let name = format!("{UNREAD}{area}");
    let before = settings::get(connection, &name)?;
    if before.is_none() && told.unread.is_empty() {
        return Ok(());
    }
    let mut rows = before.filter(|_| !told.anew).map_or_else(UnreadRows::default, |value| read(&value).1);
    rows.tags.retain(|tag| !told.settled.contains(tag.as_str()));
    // Each stands on a line of its own.
    rows.tags.extend(told.unread.iter().map(|tag| tag.replace(char::is_control, " ")));
    rows.more |= rows.tags.len() > MOST;
    rows.tags = rows.tags.into_iter().take(MOST).collect();
    if rows.tags.is_empty() && !rows.more {
        return forget(connection, area);
    }
    settings::put(connection, &[(&name, &write(&rows))])
}

/// Forgets what was kept of an area.
pub(crate) fn forget(connection: &Connection, area: &str) -> Result<(), Error> {
    settings::remove(connection, &format!("{UNREAD}{area}"))
}

/// Returns whether another version of the app met rows in an area that it could not read.
pub(crate) fn by_another_version(connection: &Connection, area: &str) -> Result<bool, Error> {
    let kept = settings::get(connection, &format!("{UNREAD}{area}"))?;
    Ok(kept.is_some_and(|value| read(&value).0 != VERSION))
}

fn write(rows: &UnreadRows) -> String {
    let more = if rows.more { MORE } else { "" };
    let lines = std::iter::once(format!("{VERSION}{more}")).chain(rows.tags.iter().cloned());
    lines.collect::<Vec<_>>().join("\n")
}

/// The version, and the rows.
fn read(value: &str) -> (&str, UnreadRows) {
    let (first, tags) = value.split_once('\n').unwrap_or((value, ""));
    let version = first.strip_suffix(MORE);
    let tags = tags.lines().map(str::to_owned).collect();
    (version.unwrap_or(first), UnreadRows { tags, more: version.is_some() })
}
