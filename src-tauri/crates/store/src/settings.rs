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
        self.read(|connection| {
            let found = connection
                .prepare_cached("SELECT value, seal FROM setting WHERE name = ?1")?
                .query_row([name], |row| Ok((row.get::<_, String>(0)?, row.get::<_, Vec<u8>>(1)?)))
                .optional()?;
            let Some((value, stored)) = found else { return Ok(None) };
            seal(name, &value).check(&stored, &format!("the setting {name}"))?;
            Ok(Some(value))
        })
    }

    /// Makes settings, all of them or none.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives.
    pub fn set(&self, settings: &[(&str, &str)]) -> Result<(), Error> {
        self.write(|transaction| put(transaction, settings))
    }
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

fn seal(name: &str, value: &str) -> Seal {
    Seal::of("setting").text(name).text(value)
}
