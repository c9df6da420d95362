//! Which log this install writes, and its secret key as the phone's key store sealed it.
//!
//! The key is opaque here: it was sealed before it came and is opened by the one who sealed it. An identity is
//! never replaced, only followed by another: a restored phone starts a new log, and the old one stays readable.

use rusqlite::{OptionalExtension, params};

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
    /// Returns the identity that counts, or none on a fresh install.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when it is not as it was written, and what storage gives.
    pub fn identity(&self) -> Result<Option<Identity>, Error> {
        self.read(|connection| {
            let found = connection
                .prepare_cached("SELECT log, sealed_key, seal FROM identity ORDER BY number DESC LIMIT 1")?
                .query_row([], |row| {
                    Ok((Identity { log: row.get(0)?, sealed_key: row.get(1)? }, row.get::<_, Vec<u8>>(2)?))
                })
                .optional()?;
            let Some((identity, stored)) = found else { return Ok(None) };
            seal(&identity).check(&stored, "this phone's identity")?;
            Ok(Some(identity))
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

fn seal(identity: &Identity) -> Seal {
    Seal::of("identity").bytes(&identity.log.0).bytes(&identity.sealed_key)
}
