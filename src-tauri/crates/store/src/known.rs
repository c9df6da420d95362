//! Which logs somebody vouched for: this phone's own, the hub's, and those with a certificate.
//!
//! Who may vouch for whom is `exchange::trust`'s to say; here stands what came of it.

use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::seal::Seal;
use crate::{Error, LogId, Store, taken};

/// A log that the hub writes, or wrote before it was restored.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct HubLog {
    /// The log.
    pub log: LogId,
    /// The hub's epoch while it writes this log; none for the organisation's, and for one whose key was put away.
    pub epoch: Option<[u8; 16]>,
}

impl Store {
    /// Notes that somebody vouched for these logs, and takes in what was parked of them. Returns how many entries
    /// that were.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives.
    pub fn vouch(&self, logs: &[LogId]) -> Result<u32, Error> {
        self.write(|transaction| logs.iter().map(|log| vouch(transaction, *log)).sum())
    }

    /// Notes a log of the hub, and takes in what was parked of it.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives.
    pub fn know_hub(&self, hub: HubLog) -> Result<u32, Error> {
        self.write(|transaction| know_hub(transaction, hub))
    }

    /// Returns the logs of the hub.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when one is not as it was written, and what storage gives.
    pub fn hub_logs(&self) -> Result<Vec<HubLog>, Error> {
        self.read(hub_logs)
    }

    /// Returns the logs that this phone wrote, the one that it writes now last.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub fn own_logs(&self) -> Result<Vec<LogId>, Error> {
        self.read(own_logs)
    }
}

/// Whether somebody vouched for a log.
pub(crate) fn is_known(connection: &Connection, log: LogId) -> Result<bool, Error> {
    let known = connection
        .prepare_cached(
            "SELECT 1 FROM known_log WHERE log = ?1 UNION ALL SELECT 1 FROM hub_log WHERE log = ?1 \
             UNION ALL SELECT 1 FROM identity WHERE log = ?1 LIMIT 1",
        )?
        .query_row([log], |_| Ok(()))
        .optional()?;
    Ok(known.is_some())
}

pub(crate) fn own_logs(connection: &Connection) -> Result<Vec<LogId>, Error> {
    let mut statement = connection.prepare_cached("SELECT log FROM identity ORDER BY number")?;
    let logs = statement.query_map([], |row| row.get(0))?;
    Ok(logs.collect::<Result<_, _>>()?)
}

pub(crate) fn vouch(connection: &Connection, log: LogId) -> Result<u32, Error> {
    connection
        .prepare_cached("INSERT INTO known_log (log, seal) VALUES (?1, ?2) ON CONFLICT (log) DO NOTHING")?
        .execute(params![log, known_seal(log).done()])?;
    taken::adopt(connection, log)
}

pub(crate) fn know_hub(connection: &Connection, hub: HubLog) -> Result<u32, Error> {
    let epoch = hub.epoch.as_ref().map_or(&[][..], |epoch| &epoch[..]);
    connection
        .prepare_cached(
            "INSERT INTO hub_log (log, epoch, seal) VALUES (?1, ?2, ?3) \
             ON CONFLICT (log) DO UPDATE SET epoch = excluded.epoch, seal = excluded.seal",
        )?
        .execute(params![hub.log, epoch, seal(&hub).done()])?;
    taken::adopt(connection, hub.log)
}

pub(crate) fn hub_logs(connection: &Connection) -> Result<Vec<HubLog>, Error> {
    let mut statement = connection.prepare_cached("SELECT log, epoch, seal FROM hub_log ORDER BY log")?;
    let rows = statement.query_map([], |row| Ok((raw(row)?, row.get::<_, Vec<u8>>(2)?)))?;
    rows.map(|row| {
        let (hub, stored) = row?;
        seal(&hub).check(&stored, "a log of the hub")?;
        Ok(hub)
    })
    .collect()
}

fn raw(row: &Row<'_>) -> rusqlite::Result<HubLog> {
    let epoch: Vec<u8> = row.get(1)?;
    Ok(HubLog { log: row.get(0)?, epoch: if epoch.is_empty() { None } else { Some(row.get(1)?) } })
}

/// Returns the seal of a log that somebody vouched for.
pub(crate) fn known_seal(log: LogId) -> Seal {
    Seal::of("known_log").bytes(&log.0)
}

/// Returns the seal of a log of the hub.
pub(crate) fn seal(hub: &HubLog) -> Seal {
    Seal::of("hub_log").bytes(&hub.log.0).bytes(hub.epoch.as_ref().map_or(&[], |epoch| &epoch[..]))
}
