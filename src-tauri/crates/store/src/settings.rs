//! Small choices that outlive a restart: who works with this phone, which theme.
//!
//! Names are the caller's. A setting that was never made is none, which is not the same as empty.

use rusqlite::{Connection, OptionalExtension, params};

use crate::seal::Seal;
use crate::{Error, Store};

impl Store {
    /// Returns a setting.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when it is not as it was written, and what storage gives.
    pub fn setting(&self, name: &str) -> Result<Option<String>, Error> {
        self.read(|connection| get(connection, name))
    }

    /// Makes settings, all of them or none.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives.
    pub fn set(&self, settings: &[(&str, &str)]) -> Result<(), Error> {
        self.write(|transaction| put(transaction, settings))
    }

    /// Takes settings out, all of them or none; what was never made is none already.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives.
    pub fn unset(&self, names: &[&str]) -> Result<(), Error> {
        self.write(|transaction| names.iter().try_for_each(|name| remove(transaction, name)))
    }
}

/// Takes a setting out within a transaction.
pub(crate) fn remove(transaction: &Connection, name: &str) -> Result<(), Error> {
    transaction.prepare_cached("DELETE FROM setting WHERE name = ?1")?.execute([name])?;
    Ok(())
}

/// Returns a setting.
pub(crate) fn get(connection: &Connection, name: &str) -> Result<Option<String>, Error> {
    let found = connection
        .prepare_cached("SELECT value, seal FROM setting WHERE name = ?1")?
        .query_row([name], |row| Ok((row.get::<_, String>(0)?, row.get::<_, Vec<u8>>(1)?)))
        .optional()?;
    let Some((value, stored)) = found else { return Ok(None) };
    seal(name, &value).check(&stored, &format!("the setting {name}"))?;
    Ok(Some(value))
}

/// Makes settings within a transaction.
pub(crate) fn put(transaction: &Connection, settings: &[(&str, &str)]) -> Result<(), Error> {
    let mut statement = transaction.prepare_cached(
        "INSERT INTO setting (name, value, seal) VALUES (?1, ?2, ?3) \
         ON CONFLICT (name) DO UPDATE SET value = excluded.value, seal = excluded.seal",
    )?;
    for (name, value) in settings {
        statement.execute(params![name, value, seal(name, value).done()])?;
    }
    Ok(())
}

/// Returns the settings whose names begin so.
pub(crate) fn beginning_with(connection: &Connection, begin: &str) -> Result<Vec<(String, String)>, Error> {
    let mut statement = connection.prepare_cached(
        "SELECT name, value, seal FROM setting WHERE substr(name, 1, length(?1)) = ?1 ORDER BY name",
    )?;
    let rows = statement.query_map([begin], |row| {
        Ok((row.get::<_, String>(0)?, row.get::<_, String>(1)?, row.get::<_, Vec<u8>>(2)?))
    })?;
    rows.map(|row| {
        let (name, value, stored) = row?;
        seal(&name, &value).check(&stored, &format!("the setting {name}"))?;
        Ok((name, value))
    })
    .collect()
}

/// Makes a setting that was never made, and returns whether it was not.
pub(crate) fn put_new(connection: &Connection, name: &str, value: &str) -> Result<bool, Error> {
    let rows = connection
        .prepare_cached(
            "INSERT INTO setting (name, value, seal) VALUES (?1, ?2, ?3) ON CONFLICT (name) DO NOTHING",
        )?
        .execute(params![name, value, seal(name, value).done()])?;
    Ok(rows > 0)
}

/// Returns the seal of a setting.
pub(crate) fn seal(name: &str, value: &str) -> Seal {
    Seal::of("setting").text(name).text(value)
}
