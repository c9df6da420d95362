//! What the exchange keeps in mind: the hub and how to reach it, its epoch, where the news ended, and what the person
//! allows.

use bodies::Epoch;
use rusqlite::{Connection, OptionalExtension, params};

use crate::known::{self, HubLog};
use crate::seal::Seal;
use crate::{Error, LogId, Store, settings};

/// The hub that this phone belongs to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hub {
    /// The log of the organisation's key, on which all trust rests.
    pub organisation: LogId,
    /// Where the hub may be reached, the one to try first in front.
    pub addresses: Vec<String>,
    /// SHA-256 of the public keys that its server may show, as the enrolment gave them.
    pub pins: Vec<[u8; 32]>,
}

/// What the person allows the exchange.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Allowed {
    /// Photos may go over a connection that is paid by volume.
    pub photos_metered: bool,
    /// Nothing is sent until the person says so.
    pub paused: bool,
}

const ORGANISATION: &str = "hub.organisation";
const ADDRESSES: &str = "hub.addresses";
const PINS: &str = "hub.pins";
const EPOCH: &str = "hub.epoch";
const NEWS: &str = "hub.news";
const GIVE_BACK: &str = "hub.give_back";
const METERED: &str = "exchange.photos_metered";
const PAUSED: &str = "exchange.paused";

impl Store {
    /// Returns the hub that this phone belongs to, or none before it was enrolled.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when that is not as it was written, and what storage gives.
    pub fn hub(&self) -> Result<Option<Hub>, Error> {
        self.read(|connection| {
            let Some(organisation) = organisation(connection)? else { return Ok(None) };
            let addresses = get(connection, ADDRESSES)?.unwrap_or_default();
            let addresses = String::from_utf8(addresses).map_err(|_| broken(ADDRESSES))?;
            let pins = get(connection, PINS)?.unwrap_or_default();
            Ok(Some(Hub {
                organisation,
                addresses: addresses.lines().map(str::to_owned).collect(),
                pins: pins.as_chunks::<32>().0.to_vec(),
            }))
        })
    }

    /// Makes this phone belong to a hub; of the same organisation, only how to reach it changes. Coming to another
    /// organisation, epoch and news begin anew, and what the old one vouched for counts no longer.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives.
    pub fn join(&self, hub: &Hub) -> Result<(), Error> {
        self.write(|transaction| {
            if organisation(transaction)? != Some(hub.organisation) {
                for table in ["hub_log", "known_log"] {
                    transaction.execute(&format!("DELETE FROM {table}"), [])?;
                }
                transaction.execute("DELETE FROM mark WHERE name IN (?1, ?2)", [EPOCH, NEWS])?;
            }
            put(transaction, ORGANISATION, &hub.organisation.0)?;
            put(transaction, ADDRESSES, hub.addresses.join("\n").as_bytes())?;
            put(transaction, PINS, &hub.pins.concat())?;
            known::know_hub(transaction, HubLog { log: hub.organisation, epoch: None })?;
            Ok(())
        })
    }

    /// Returns what the person allows the exchange.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when that is not as it was written, and what storage gives.
    pub fn allowed(&self) -> Result<Allowed, Error> {
        let is = |name| Ok::<_, Error>(self.setting(name)?.as_deref() == Some(YES));
        Ok(Allowed { photos_metered: is(METERED)?, paused: is(PAUSED)? })
    }

    /// Keeps what the person allows the exchange.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives.
    pub fn allow(&self, allowed: Allowed) -> Result<(), Error> {
        let word = |yes: bool| if yes { YES } else { "no" };
        self.write(|transaction| {
            settings::put(
                transaction,
                &[(METERED, word(allowed.photos_metered)), (PAUSED, word(allowed.paused))],
            )
        })
    }
}

const YES: &str = "yes";

/// Returns the log of the organisation's key.
pub(crate) fn organisation(connection: &Connection) -> Result<Option<LogId>, Error> {
    let found = get(connection, ORGANISATION)?;
    found.map(|log| log.try_into().map(LogId).map_err(|_| broken(ORGANISATION))).transpose()
}

/// Returns the hub's epoch as last heard.
pub(crate) fn epoch(connection: &Connection) -> Result<Option<Epoch>, Error> {
    let found = get(connection, EPOCH)?;
    found.map(|epoch| epoch.try_into().map(Epoch).map_err(|_| broken(EPOCH))).transpose()
}

/// Begins an epoch, if it is another one: the hub's numbers of another mean nothing in this one.
pub(crate) fn enter(connection: &Connection, epoch: Epoch) -> Result<(), Error> {
    if self::epoch(connection)? == Some(epoch) {
        return Ok(());
    }
    put(connection, EPOCH, &epoch.0)?;
    put(connection, NEWS, &0u64.to_be_bytes())?;
    keep_give_back(connection, true)
}

/// Returns whether the hub is still to be told what is held of hub logs.
pub(crate) fn give_back(connection: &Connection) -> Result<bool, Error> {
    Ok(get(connection, GIVE_BACK)?.is_some_and(|yes| yes == [1]))
}

/// Keeps whether the hub is still to be told what is held of hub logs.
pub(crate) fn keep_give_back(connection: &Connection, give_back: bool) -> Result<(), Error> {
    put(connection, GIVE_BACK, &[u8::from(give_back)])
}

/// Returns the hub's number of the last news taken in this epoch.
pub(crate) fn news(connection: &Connection) -> Result<u64, Error> {
    let Some(found) = get(connection, NEWS)? else { return Ok(0) };
    found.try_into().map(u64::from_be_bytes).map_err(|_| broken(NEWS))
}

/// Keeps the number of the last news. It never goes back within an epoch: answers may come out of order.
pub(crate) fn keep_news(connection: &Connection, number: u64) -> Result<(), Error> {
    let number = number.max(news(connection)?);
    put(connection, NEWS, &number.to_be_bytes())
}

/// Returns a mark.
pub(crate) fn get(connection: &Connection, name: &str) -> Result<Option<Vec<u8>>, Error> {
    let found = connection
        .prepare_cached("SELECT value, seal FROM mark WHERE name = ?1")?
        .query_row([name], |row| Ok((row.get::<_, Vec<u8>>(0)?, row.get::<_, Vec<u8>>(1)?)))
        .optional()?;
    let Some((value, stored)) = found else { return Ok(None) };
    seal(name, &value).check(&stored, &format!("the mark {name}"))?;
    Ok(Some(value))
}

/// Keeps a mark within a transaction.
pub(crate) fn put(connection: &Connection, name: &str, value: &[u8]) -> Result<(), Error> {
    connection
        .prepare_cached(
            "INSERT INTO mark (name, value, seal) VALUES (?1, ?2, ?3) \
             ON CONFLICT (name) DO UPDATE SET value = excluded.value, seal = excluded.seal",
        )?
        .execute(params![name, value, seal(name, value).done()])?;
    Ok(())
}

/// Keeps a mark that was never kept, and returns whether it was not.
pub(crate) fn put_new(connection: &Connection, name: &str, value: &[u8]) -> Result<bool, Error> {
    let rows = connection
        .prepare_cached(
            "INSERT INTO mark (name, value, seal) VALUES (?1, ?2, ?3) ON CONFLICT (name) DO NOTHING",
        )?
        .execute(params![name, value, seal(name, value).done()])?;
    Ok(rows > 0)
}

/// Whether a mark says whose this phone is, and not how far something was followed.
pub(crate) fn is_lasting(name: &str) -> bool {
    [ORGANISATION, ADDRESSES, PINS, EPOCH].contains(&name)
}

/// Returns the seal of a mark.
pub(crate) fn seal(name: &str, value: &[u8]) -> Seal {
    Seal::of("mark").text(name).bytes(value)
}

fn broken(name: &str) -> Error {
    Error::Unreadable { what: format!("the mark {name} is not as it was written") }
}
