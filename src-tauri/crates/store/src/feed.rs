//! The register as the hub feeds it: pages by area, each from one version to another.
//!
//! A page applies only where it starts from what is here, whole and in one transaction. The first page of an area is a
//! snapshot: what stood in the area before goes. A register loaded from a file and one that is fed do not mix: the first
//! page of a feed takes the file's place, and that is told; a file is not loaded beside a feed. A row that this version
//! cannot read stops no other: `unread` keeps which it is.

use std::collections::BTreeSet;

use bodies::{Epoch, RegisterRow};
use domain::visit::tag;
use exchange::message::Cursor;
use exchange::page::{PEOPLE, Page, SENSORS};
use rusqlite::{Connection, OptionalExtension, params};

use crate::seal::Seal;
use crate::unread::{self, Told};
use crate::{
    Error, InstrumentRow, RegisterName, Seq, Store, TagKey, Whereabouts, marks, people, register, sensors,
    settings, whereabouts,
};

/// The epoch of an area that has to begin anew. No hub has it, so no page but a snapshot follows it.
const NO_EPOCH: Epoch = Epoch([0; 16]);

/// What became of a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Applied {
    /// It is in.
    Now,
    /// What it brings was here already.
    Before,
    /// It does not start from what is here; this is the version that is.
    OutOfStep(u64),
}

/// The setting that holds the name of the file's register that a feed took the place of, until somebody has seen it.
const REPLACED: &str = "register.replaced";

impl Store {
    /// Applies a page that was verified. A row of it that cannot be read is left out, and what stood for its instrument
    /// before stays; [`Store::unread_rows`] tells it.
    ///
    /// # Errors
    ///
    /// What storage gives. The register is then as it was.
    pub fn apply_page(&self, page: &Page) -> Result<Applied, Error> {
        self.write(|transaction| apply(transaction, page))
    }

    /// Returns whether the register here is fed by the hub.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub fn is_fed(&self) -> Result<bool, Error> {
        self.read(is_fed)
    }

    /// Returns the name of the register from a file that the hub's took the place of, until [`Store::seen_replaced`].
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when that is not as it was written, and what storage gives.
    pub fn replaced_register(&self) -> Result<Option<String>, Error> {
        Ok(self.setting(REPLACED)?.filter(|name| !name.is_empty()))
    }

    /// Notes that a person has seen that the hub's register took the place of the file's.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives.
    pub fn seen_replaced(&self) -> Result<(), Error> {
        self.set(&[(REPLACED, "")])
    }
}

/// Applies a page within a transaction.
pub(crate) fn apply(connection: &Connection, page: &Page) -> Result<Applied, Error> {
    if page.snapshot && page.to == 0 {
        return leave(connection, &page.area);
    }
    let at = standing(connection, &page.area, Some(page.epoch))?;
    let version = at.unwrap_or(0);
    let begins = page.snapshot || at.is_some();
    match at {
        Some(version) if page.to <= version => return Ok(Applied::Before),
        _ if !begins || (!page.snapshot && page.from != version) => return Ok(Applied::OutOfStep(version)),
        _ => {}
    }
    if page.area == PEOPLE {
        // Names stand beside any register, also one from a file.
        if !people::take(connection, page)? {
            return Ok(Applied::OutOfStep(version));
        }
        return put_cursor(connection, PEOPLE, page.epoch, page.to).map(|()| Applied::Now);
    }
    if page.area == SENSORS {
        return take_sensors(connection, page);
    }
    let (rows, unread) = read(page);
    if !is_fed(connection)? {
        take_the_files_place(connection)?;
    }
    if page.snapshot {
        clear_area(connection, &page.area)?;
    }
    for tag in &page.removals {
        remove(connection, &TagKey(tag::folded(tag)), Some(&page.area))?;
    }
    rows.iter().try_for_each(|(_, row)| put(connection, &page.area, row))?;
    let settled = page.removals.iter().map(String::as_str).chain(rows.iter().map(|(tag, _)| *tag));
    let told = Told { anew: page.snapshot, settled: settled.collect(), unread };
    unread::keep(connection, &page.area, &told)?;
    put_cursor(connection, &page.area, page.epoch, page.to)?;
    let awaited = connection.prepare_cached("SELECT 1 FROM feed WHERE epoch = ?1")?.exists([NO_EPOCH.0])?;
    // Lines that were taken over from a damaged file stood in for areas that are all here again. A hub whose register
    // has no areas feeds the one without a name: then its own snapshot put an end to them.
    if !awaited && cursor(connection, "")?.is_none() {
        clear_area(connection, "")?;
    }
    name(connection)?;
    Ok(Applied::Now)
}

/// Takes the table of sensors in the place of the one here; one that this version cannot read leaves that as it is.
fn take_sensors(connection: &Connection, page: &Page) -> Result<Applied, Error> {
    const TABLE: &str = "the table of sensors that could be fitted";
    let unread = if sensors::replace(connection, page)? { BTreeSet::new() } else { BTreeSet::from([TABLE]) };
    unread::keep(connection, SENSORS, &Told { anew: true, settled: BTreeSet::new(), unread })?;
    put_cursor(connection, SENSORS, page.epoch, page.to)?;
    name(connection)?;
    Ok(Applied::Now)
}

/// The rows of a page by their tags, and the tags of those that this version cannot read.
fn read(page: &Page) -> (Vec<(&str, RegisterRow)>, BTreeSet<&str>) {
    let (mut rows, mut unread) = (Vec::new(), BTreeSet::new());
    for upsert in &page.upserts {
        match RegisterRow::decode(&upsert.row) {
            Ok(row) => rows.push((upsert.tag.as_str(), row)),
            Err(_) => {
                unread.insert(upsert.tag.as_str());
            }
        }
    }
    (rows, unread)
}

/// An area that this phone no longer gets, or that a restored hub no longer has: its rows go, and it is not asked for.
fn leave(connection: &Connection, area: &str) -> Result<Applied, Error> {
    if area == SENSORS {
        sensors::clear(connection)?;
    }
    clear_area(connection, area)?;
    connection.prepare_cached("DELETE FROM feed WHERE area = ?1")?.execute([area])?;
    unread::forget(connection, area)?;
    name(connection)?;
    Ok(Applied::Now)
}

/// Returns where this phone stands in each area, in this epoch: an area that was followed in another begins anew, and so
/// does one with rows that another version of the app could not read.
pub(crate) fn cursors(connection: &Connection, epoch: Option<Epoch>) -> Result<Vec<Cursor>, Error> {
    let mut statement = connection.prepare_cached("SELECT area FROM feed ORDER BY area")?;
    let areas = statement.query_map([], |row| row.get::<_, String>(0))?.collect::<Result<Vec<_>, _>>()?;
    let at = |area: String| {
        let version = standing(connection, &area, epoch)?.unwrap_or(0);
        Ok(Cursor { version, area })
    };
    areas.into_iter().map(at).collect()
}

pub(crate) fn is_fed(connection: &Connection) -> Result<bool, Error> {
    Ok(connection
        .prepare_cached("SELECT 1 FROM feed WHERE area NOT IN (?1, ?2) LIMIT 1")?
        .exists([SENSORS, PEOPLE])?)
}

/// Returns the version of an area that stands here, where its next page may follow it.
fn standing(connection: &Connection, area: &str, epoch: Option<Epoch>) -> Result<Option<u64>, Error> {
    let at = cursor(connection, area)?.filter(|(of, _)| Some(*of) == epoch);
    let Some((_, version)) = at else { return Ok(None) };
    Ok((!unread::by_another_version(connection, area)?).then_some(version))
}

fn cursor(connection: &Connection, area: &str) -> Result<Option<(Epoch, u64)>, Error> {
    let found = connection
        .prepare_cached("SELECT epoch, version, seal FROM feed WHERE area = ?1")?
        .query_row([area], |row| {
            // A version counts from 0 and is kept like a place.
            Ok((Epoch(row.get(0)?), row.get::<_, Seq>(1)?.0, row.get::<_, Vec<u8>>(2)?))
        })
        .optional()?;
    let Some((epoch, version, stored)) = found else { return Ok(None) };
    seal(area, epoch, version).check(&stored, "how far the register is followed")?;
    Ok(Some((epoch, version)))
}

fn put_cursor(connection: &Connection, area: &str, epoch: Epoch, version: u64) -> Result<(), Error> {
    connection
        .prepare_cached(
            "INSERT INTO feed (area, epoch, version, seal) VALUES (?1, ?2, ?3, ?4) ON CONFLICT (area) \
             DO UPDATE SET epoch = excluded.epoch, version = excluded.version, seal = excluded.seal",
        )?
        .execute(params![area, epoch.0, Seq(version), seal(area, epoch, version).done()])?;
    Ok(())
}

/// Follows an area from its start: the next page of it is a snapshot.
pub(crate) fn begin_anew(connection: &Connection, area: &str) -> Result<(), Error> {
    put_cursor(connection, area, NO_EPOCH, 0)
}

/// Returns the seal of how far an area is followed.
pub(crate) fn seal(area: &str, epoch: Epoch, version: u64) -> Seal {
    Seal::of("feed").text(area).bytes(&epoch.0).bytes(&version.to_be_bytes())
}

/// Empties a register that came from a file, and notes its name for the person to see.
fn take_the_files_place(connection: &Connection) -> Result<(), Error> {
    if let Some(name) = register::name_of(connection)? {
        settings::put(connection, &[(REPLACED, &format!("{}, {}", name.name, name.dated))])?;
    }
    sensors::clear(connection)?;
    register::clear(connection)
}

fn clear_area(connection: &Connection, area: &str) -> Result<(), Error> {
    let mut statement = connection.prepare_cached("SELECT tag_key FROM instrument WHERE area = ?1")?;
    let keys = statement.query_map([area], |row| row.get(0).map(TagKey))?.collect::<Result<Vec<_>, _>>()?;
    keys.iter().try_for_each(|key| remove(connection, key, None))
}

/// Removes an instrument; with an area, only where it still stands in that one: it may have moved on.
fn remove(connection: &Connection, key: &TagKey, area: Option<&str>) -> Result<(), Error> {
    let found: Option<(String, String)> = connection
        .prepare_cached("SELECT tag, area FROM instrument WHERE tag_key = ?1")?
        .query_row([&key.0], |row| Ok((row.get(0)?, row.get(1)?)))
        .optional()?;
    let Some((tag, _)) = found.filter(|(_, of)| area.is_none_or(|area| area == of)) else { return Ok(()) };
    connection.prepare_cached("DELETE FROM code WHERE tag = ?1")?.execute([tag])?;
    for table in ["whereabouts", "sheet", "instrument"] {
        connection.prepare_cached(&format!("DELETE FROM {table} WHERE tag_key = ?1"))?.execute([&key.0])?;
    }
    Ok(())
}

fn put(connection: &Connection, area: &str, row: &RegisterRow) -> Result<(), Error> {
    let kept = InstrumentRow::of(&row.0)?;
    remove(connection, &kept.listed.key, None)?;
    register::insert(connection, &kept, area)?;
    Whereabouts::of(&row.0).map_or(Ok(()), |line| whereabouts::put(connection, &line))
}

/// Names the register by its areas and the sum of their versions, which grows with every page.
fn name(connection: &Connection) -> Result<(), Error> {
    let epoch = marks::epoch(connection)?;
    let mut cursors = cursors(connection, epoch)?;
    // Names of people are no part of the register.
    cursors.retain(|cursor| cursor.area != PEOPLE);
    let areas: Vec<&str> = cursors
        .iter()
        .map(|cursor| cursor.area.as_str())
        .filter(|area| !area.is_empty() && *area != SENSORS)
        .collect();
    let name = if areas.is_empty() {
        "From the hub".to_owned()
    } else {
        format!("From the hub: {}", areas.join(", "))
    };
    let version: u64 = cursors.iter().map(|cursor| cursor.version).fold(0, u64::saturating_add);
    register::put_name(connection, &RegisterName { name, dated: format!("version {version}") })
}
