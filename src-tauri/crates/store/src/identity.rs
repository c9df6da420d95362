//! Which log this install writes, and its secret key as the phone's key store sealed it.
//!
//! The key is opaque here: it was sealed before it came and is opened by the one who sealed it. An identity is
//! never replaced, only followed by another: a restored phone starts a new log, and the old one stays readable.

use rusqlite::{Connection, OptionalExtension, params};

use crate::seal::Seal;
use crate::{Error, LogId, Store};

/// An identity of this install.
#[derive(Clone, PartialEq, Eq)]
pub struct Identity {
    /// The log it writes.
    pub log: LogId,
    /// Its secret key, sealed.
    pub sealed_key: Vec<u8>,
}

// The key stays out of logs and messages, sealed as it is.
impl std::fmt::Debug for Identity {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Identity").field("log", &self.log).finish_non_exhaustive()
    }
}

impl Store {
    /// Returns the identity that counts, or none on a fresh install and where the log of the last one was closed,
    /// because its end may have been lost with a damaged file: nothing is ever written behind such an end.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when it is not as it was written, and what storage gives.
    pub fn identity(&self) -> Result<Option<Identity>, Error> {
        self.read(|connection| {
            let found = connection
                .prepare_cached(
                    "SELECT log, sealed_key, seal, closed FROM identity ORDER BY number DESC LIMIT 1",
                )?
                .query_row([], |row| {
                    let identity = Identity { log: row.get(0)?, sealed_key: row.get(1)? };
                    Ok((identity, row.get::<_, Vec<u8>>(2)?, row.get::<_, bool>(3)?))
                })
                .optional()?;
            let Some((identity, stored, closed)) = found else { return Ok(None) };
            seal(&identity).check(&stored, "this phone's identity")?;
            Ok((!closed).then_some(identity))
        })
    }

    /// Adds an identity, which counts from now on.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives.
    pub fn add_identity(&self, identity: &Identity) -> Result<(), Error> {
        self.write(|transaction| {
            transaction.execute(
                "INSERT INTO identity (log, sealed_key, seal) VALUES (?1, ?2, ?3)",
                params![identity.log, identity.sealed_key, seal(identity).done()],
            )?;
            Ok(())
        })
    }
}

/// Returns the log that is written now; none where the last one was closed.
pub(crate) fn now(connection: &Connection) -> Result<Option<LogId>, Error> {
    let last = connection
        .prepare_cached("SELECT log, closed FROM identity ORDER BY number DESC LIMIT 1")?
        .query_row([], |row| Ok((row.get(0)?, row.get::<_, bool>(1)?)))
        .optional()?;
    Ok(last.filter(|(_, closed)| !closed).map(|(log, _)| log))
}

/// Adds an identity below all others, whose log is closed: nothing is written behind its end any more. One that is
/// known already stays as it is.
pub(crate) fn put_closed(connection: &Connection, identity: &Identity) -> Result<(), Error> {
    if connection.prepare_cached("SELECT 1 FROM identity WHERE log = ?1")?.exists([identity.log])? {
        return Ok(());
    }
    let number: i64 =
        connection.query_row("SELECT coalesce(min(number), 1) - 1 FROM identity", [], |row| row.get(0))?;
    connection.execute(
        "INSERT INTO identity (number, log, sealed_key, seal, closed) VALUES (?1, ?2, ?3, ?4, 1)",
        params![number, identity.log, identity.sealed_key, seal(identity).done()],
    )?;
    Ok(())
}

/// Returns the seal of an identity's row.
pub(crate) fn seal(identity: &Identity) -> Seal {
    Seal::of("identity").bytes(&identity.log.0).bytes(&identity.sealed_key)
}
