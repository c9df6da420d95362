//! The register of instruments: loaded whole, looked up by tag or by code.
//!
//! A load replaces everything in one transaction: a register is never half the old one and half the new. A
//! tag is found by its folded form; how a tag is folded is the caller's rule, and this crate compares folded
//! tags whole. A code is found by its whole text, letter for letter, so that whatever code an instrument
//! carries can serve.

use domain::visit::{Instrument, tag};
use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::seal::Seal;
use crate::{Error, Store, Whereabouts, feed, settings, whereabouts};

/// A tag folded for comparison.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct TagKey(pub String);

/// Which register it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RegisterName {
    /// Its name.
    pub name: String,
    /// Its date, as the file wrote it.
    pub dated: String,
}

/// What a search goes through.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Listed {
    /// The tag, folded.
    pub key: TagKey,
    /// The tag as written.
    pub tag: String,
    /// The service.
    pub service: String,
    /// The site.
    pub site: String,
    /// The serial number.
    pub serial: String,
}

/// An instrument to be loaded.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InstrumentRow {
    /// What a search goes through.
    pub listed: Listed,
    /// The codes that lead to it.
    pub codes: Vec<String>,
    /// All that the register says of it, as text.
    pub body: String,
}

impl InstrumentRow {
    /// Returns what is kept of an instrument.
    ///
    /// # Errors
    ///
    /// [`Error::Broken`] where it cannot be written as text, which does not happen.
    pub fn of(instrument: &Instrument) -> Result<InstrumentRow, Error> {
        let listed = Listed {
            key: TagKey(tag::folded(&instrument.tag)),
            tag: instrument.tag.trim().to_owned(),
            service: instrument.service.clone(),
            site: instrument.site.name.clone(),
            serial: instrument.serial.clone(),
        };
        let codes = instrument.codes.iter().map(|code| code.trim().to_owned()).collect();
        let body = serde_json::to_string(instrument)
            .map_err(|error| Error::Broken { what: format!("an instrument as text: {error}") })?;
        Ok(InstrumentRow { listed, codes, body })
    }
}

impl Store {
    /// Replaces the whole register and returns how many instruments it holds.
    ///
    /// # Errors
    ///
    /// [`Error::TagTwice`] when two rows have one folded tag, [`Error::Fed`] where the hub feeds the register, and what
    /// storage gives. The register that was loaded before then stays, whole.
    pub fn load_register(
        &self,
        name: &RegisterName,
        rows: impl IntoIterator<Item = InstrumentRow>,
    ) -> Result<u32, Error> {
        self.load_register_with(name, rows, &[])
    }

    /// Replaces the whole register and makes settings that belong to it, all in one step.
    ///
    /// # Errors
    ///
    /// As [`Store::load_register`].
    pub fn load_register_with(
        &self,
        name: &RegisterName,
        rows: impl IntoIterator<Item = InstrumentRow>,
        settings: &[(&str, &str)],
    ) -> Result<u32, Error> {
        self.replace_register(name, rows, [], settings)
    }

    /// Replaces the whole register, with where its instruments stand and the settings that belong to it, all in one
    /// step.
    ///
    /// # Errors
    ///
    /// As [`Store::load_register`].
    pub fn replace_register(
        &self,
        name: &RegisterName,
        rows: impl IntoIterator<Item = InstrumentRow>,
        whereabouts: impl IntoIterator<Item = Whereabouts>,
        settings: &[(&str, &str)],
    ) -> Result<u32, Error> {
        self.write(|transaction| {
            if feed::is_fed(transaction)? {
                return Err(Error::Fed);
            }
            clear(transaction)?;
            put_name(transaction, name)?;
            let mut count = 0;
            for row in rows {
                insert(transaction, &row, "")?;
                count += 1;
            }
            whereabouts.into_iter().try_for_each(|line| whereabouts::put(transaction, &line))?;
            settings::put(transaction, settings)?;
            Ok(count)
        })
    }

    /// Returns which register is loaded, or none.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when that is not as it was written, and what storage gives.
    pub fn register_name(&self) -> Result<Option<RegisterName>, Error> {
        self.read(name_of)
    }

    /// Returns how many instruments the register holds.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub fn instrument_count(&self) -> Result<u32, Error> {
        self.read(|connection| {
            Ok(connection.query_row("SELECT count(*) FROM instrument", [], |row| row.get(0))?)
        })
    }

    /// Returns the register's text for an instrument.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when it is not as it was written, and what storage gives.
    pub fn instrument(&self, key: &TagKey) -> Result<Option<String>, Error> {
        self.read(|connection| {
            let found = connection
                .prepare_cached("SELECT body, seal FROM sheet WHERE tag_key = ?1")?
                .query_row([&key.0], |row| Ok((row.get::<_, String>(0)?, row.get::<_, Vec<u8>>(1)?)))
                .optional()?;
            let Some((body, seal)) = found else { return Ok(None) };
            sheet_seal(key, &body).check(&seal, "an instrument of the register")?;
            Ok(Some(body))
        })
    }

    /// Returns the tags, as written, of all instruments that claim a code, in their order.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub fn tags_of_code(&self, code: &str) -> Result<Vec<String>, Error> {
        self.read(|connection| {
            let mut statement =
                connection.prepare_cached("SELECT tag FROM code WHERE code = ?1 ORDER BY tag")?;
            let rows = statement.query_map([code], |row| row.get(0))?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }

    /// Returns what a search goes through, in the order of folded tags.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when a row is not as it was written, and what storage gives.
    pub fn listed(&self) -> Result<Vec<Listed>, Error> {
        self.read(|connection| {
            let mut statement = connection.prepare_cached(
                "SELECT tag_key, tag, service, site, serial, seal FROM instrument ORDER BY tag_key",
            )?;
            let rows = statement.query_map([], |row| Ok((listed(row)?, row.get::<_, Vec<u8>>(5)?)))?;
            rows.map(|row| {
                let (listed, seal) = row?;
                listed_seal(&listed).check(&seal, "a line of the register")?;
                Ok(listed)
            })
            .collect()
        })
    }
}

/// Empties the register.
pub(crate) fn clear(connection: &Connection) -> Result<(), Error> {
    for table in ["whereabouts", "code", "sheet", "instrument", "register"] {
        connection.execute(&format!("DELETE FROM {table}"), [])?;
    }
    Ok(())
}

/// Returns which register is there.
pub(crate) fn name_of(connection: &Connection) -> Result<Option<RegisterName>, Error> {
    let found = connection
        .prepare_cached("SELECT name, dated, seal FROM register WHERE one = 1")?
        .query_row([], |row| {
            Ok((RegisterName { name: row.get(0)?, dated: row.get(1)? }, row.get::<_, Vec<u8>>(2)?))
        })
        .optional()?;
    let Some((name, seal)) = found else { return Ok(None) };
    name_seal(&name).check(&seal, "the register's name")?;
    Ok(Some(name))
}

/// Says which register is there.
pub(crate) fn put_name(connection: &Connection, name: &RegisterName) -> Result<(), Error> {
    connection.execute(
        "INSERT INTO register (one, name, dated, seal) VALUES (1, ?1, ?2, ?3) ON CONFLICT (one) \
         DO UPDATE SET name = excluded.name, dated = excluded.dated, seal = excluded.seal",
        params![name.name, name.dated, name_seal(name).done()],
    )?;
    Ok(())
}

/// Adds an instrument, with the area of the feed that it came with; empty for a file's.
pub(crate) fn insert(connection: &Connection, row: &InstrumentRow, area: &str) -> Result<(), Error> {
    let listed = &row.listed;
    // DO NOTHING only to count: no row is ever dropped in silence.
    let added = connection
        .prepare_cached(
            "INSERT INTO instrument (tag_key, tag, service, site, serial, seal, area) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) ON CONFLICT (tag_key) DO NOTHING",
        )?
        .execute(params![
            listed.key.0,
            listed.tag,
            listed.service,
            listed.site,
            listed.serial,
            listed_seal(listed).done(),
            area
        ])?;
    if added == 0 {
        return Err(Error::TagTwice { tag: listed.tag.clone() });
    }
    connection
        .prepare_cached("INSERT INTO sheet (tag_key, body, seal) VALUES (?1, ?2, ?3)")?
        .execute(params![listed.key.0, row.body, sheet_seal(&listed.key, &row.body).done()])?;
    for code in &row.codes {
        // The same code twice on one instrument is one claim.
        connection
            .prepare_cached(
                "INSERT INTO code (code, tag) VALUES (?1, ?2) ON CONFLICT (code, tag) DO NOTHING",
            )?
            .execute([code, &listed.tag])?;
    }
    Ok(())
}

fn listed(row: &Row<'_>) -> rusqlite::Result<Listed> {
    Ok(Listed {
        key: TagKey(row.get(0)?),
        tag: row.get(1)?,
        service: row.get(2)?,
        site: row.get(3)?,
        serial: row.get(4)?,
    })
}

pub(crate) fn name_seal(name: &RegisterName) -> Seal {
    Seal::of("register").text(&name.name).text(&name.dated)
}

pub(crate) fn listed_seal(listed: &Listed) -> Seal {
    Seal::of("instrument")
        .text(&listed.key.0)
        .text(&listed.tag)
        .text(&listed.service)
        .text(&listed.site)
        .text(&listed.serial)
}

pub(crate) fn sheet_seal(key: &TagKey, body: &str) -> Seal {
    Seal::of("sheet").text(&key.0).text(body)
}
