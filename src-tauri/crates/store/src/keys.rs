//! Public keys by the log that they sign.
//!
//! A log's name is the hash of its key, so a key proves itself: a row whose bytes do not give its name is damage.

use record::PublicKey;
use rusqlite::{Connection, OptionalExtension, params};

use crate::{Error, LogId, Store};

impl Store {
    /// Keeps public keys, each under the name of its log. One that is there already stays.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives.
    pub fn keep_keys(&self, keys: &[PublicKey]) -> Result<(), Error> {
        self.write(|transaction| keys.iter().try_for_each(|key| keep(transaction, key)))
    }

    /// Returns the public key of a log, or none where it never came.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when it is not as it was written, and what storage gives.
    pub fn public_key(&self, log: LogId) -> Result<Option<PublicKey>, Error> {
        self.read(|connection| key_of(connection, log))
    }
}

/// Keeps a key within a transaction.
pub(crate) fn keep(connection: &Connection, key: &PublicKey) -> Result<(), Error> {
    // A name has one key, so what is there already is the same.
    connection
        .prepare_cached("INSERT INTO key (log, cose) VALUES (?1, ?2) ON CONFLICT (log) DO NOTHING")?
        .execute(params![LogId::of(key.log()), key.cose()])?;
    Ok(())
}

/// Returns the key of a log.
pub(crate) fn key_of(connection: &Connection, log: LogId) -> Result<Option<PublicKey>, Error> {
    let found = connection
        .prepare_cached("SELECT cose FROM key WHERE log = ?1")?
        .query_row([log], |row| row.get::<_, Vec<u8>>(0))
        .optional()?;
    found.map(|cose| proved(log, &cose)).transpose()
}

fn proved(log: LogId, cose: &[u8]) -> Result<PublicKey, Error> {
    let key = PublicKey::from_cose(cose).ok().filter(|key| LogId::of(key.log()) == log);
    key.ok_or_else(|| Error::Unreadable { what: format!("key {log:?} is not as it was written") })
}
