//! Signed visits as a list to look through: a view of the log.
//!
//! Nothing here is the truth. A row repeats, for finding and for showing, what an entry says, and the whole
//! table can be made anew from the log by [`Store::rebuild_signed`].

use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::seal::Seal;
use crate::{Arrival, Claimed, Entry, Error, Place, Store, TagKey, log};

/// What a list shows of a signed visit.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SignedVisit {
    /// The entry that says it.
    pub place: Place,
    /// The instrument's tag, folded.
    pub tag_key: TagKey,
    /// The tag as written.
    pub tag: String,
    /// The service.
    pub service: String,
    /// The site.
    pub site: String,
    /// When it was signed, as the phone's clock claimed.
    pub signed_at: Claimed,
    /// The verdict in a line.
    pub verdict: String,
}

const COLUMNS: &str = "log, seq, tag_key, tag, service, site, signed_at, verdict, arrival, seal";

impl Store {
    /// Returns up to `most` signed visits in the order they came, newest first.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when one is not as it was written, and what storage gives.
    pub fn signed(&self, most: u32) -> Result<Vec<SignedVisit>, Error> {
        self.read(|connection| {
            let sql = format!("SELECT {COLUMNS} FROM signed_visit ORDER BY arrival DESC LIMIT ?1");
            let mut statement = connection.prepare_cached(&sql)?;
            let rows = statement.query_map([most], raw)?;
            rows.map(|row| row?.proved()).collect()
        })
    }

    /// Returns up to `most` signed visits of one instrument, newest first.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when one is not as it was written, and what storage gives.
    pub fn signed_of(&self, key: &TagKey, most: u32) -> Result<Vec<SignedVisit>, Error> {
        self.read(|connection| {
            let sql = format!(
                "SELECT {COLUMNS} FROM signed_visit WHERE tag_key = ?1 ORDER BY arrival DESC LIMIT ?2"
            );
            let mut statement = connection.prepare_cached(&sql)?;
            let rows = statement.query_map(params![key.0, most], raw)?;
            rows.map(|row| row?.proved()).collect()
        })
    }

    /// Returns the signed visit that an entry says.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when it is not as it was written, and what storage gives.
    pub fn signed_at(&self, place: Place) -> Result<Option<SignedVisit>, Error> {
        self.read(|connection| {
            let found = connection
                .prepare_cached(&format!("SELECT {COLUMNS} FROM signed_visit WHERE log = ?1 AND seq = ?2"))?
                .query_row(params![place.log, place.seq], raw)
                .optional()?;
            found.map(Raw::proved).transpose()
        })
    }

    /// Returns how many visits are signed.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub fn signed_count(&self) -> Result<u32, Error> {
        self.read(|connection| {
            Ok(connection.query_row("SELECT count(*) FROM signed_visit", [], |row| row.get(0))?)
        })
    }

    /// Returns whether a visit of this phone stands in no line of the list: it was lost with a damaged file, and came back.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub fn has_unlisted(&self) -> Result<bool, Error> {
        self.read(|connection| {
            let mut statement = connection.prepare_cached(
                "SELECT 1 FROM entry WHERE kind = ?1 AND log IN (SELECT log FROM identity) AND NOT EXISTS \
                 (SELECT 1 FROM signed_visit WHERE log = entry.log AND seq = entry.seq) LIMIT 1",
            )?;
            Ok(statement.exists([i64::from(bodies::VISIT.0)])?)
        })
    }

    /// Empties the list of signed visits and makes it anew from the log, in one transaction.
    ///
    /// `read` says what an entry is: a signed visit, or nothing for this list. Returns how many rows there are.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when an entry is not as it was written, and what storage gives; the old list
    /// then stays.
    pub fn rebuild_signed(&self, mut read: impl FnMut(&Entry) -> Option<SignedVisit>) -> Result<u32, Error> {
        self.write(|transaction| {
            transaction.execute("DELETE FROM signed_visit", [])?;
            let mut rows = 0;
            log::each(transaction, |entry| {
                if let Some(visit) = read(entry) {
                    put(transaction, &visit, entry.arrival)?;
                    rows += 1;
                }
                Ok(())
            })?;
            Ok(rows)
        })
    }
}

/// Puts a row into the list within a transaction, in place of the one that its entry had.
pub(crate) fn put(connection: &Connection, visit: &SignedVisit, arrival: Arrival) -> Result<(), Error> {
    connection
        .prepare_cached(
            "INSERT INTO signed_visit \
             (log, seq, tag_key, tag, service, site, signed_at, verdict, arrival, seal) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8, ?9, ?10) \
             ON CONFLICT (log, seq) DO UPDATE SET tag_key = excluded.tag_key, tag = excluded.tag, \
             service = excluded.service, site = excluded.site, signed_at = excluded.signed_at, \
             verdict = excluded.verdict, arrival = excluded.arrival, seal = excluded.seal",
        )?
        .execute(params![
            visit.place.log,
            visit.place.seq,
            visit.tag_key.0,
            visit.tag,
            visit.service,
            visit.site,
            visit.signed_at.0,
            visit.verdict,
            arrival.0,
            seal(visit, arrival).done()
        ])?;
    Ok(())
}

/// Returns the seal of a line of the list.
pub(crate) fn seal(visit: &SignedVisit, arrival: Arrival) -> Seal {
    Seal::of("signed_visit")
        .bytes(&visit.place.log.0)
        .bytes(&visit.place.seq.0.to_be_bytes())
        .text(&visit.tag_key.0)
        .text(&visit.tag)
        .text(&visit.service)
        .text(&visit.site)
        .number(visit.signed_at.0)
        .text(&visit.verdict)
        .number(arrival.0)
}

/// A row as it was read, not yet compared with its seal.
struct Raw(SignedVisit, Arrival, Vec<u8>);

impl Raw {
    fn proved(self) -> Result<SignedVisit, Error> {
        seal(&self.0, self.1).check(&self.2, "a line of the signed visits")?;
        Ok(self.0)
    }
}

fn raw(row: &Row<'_>) -> rusqlite::Result<Raw> {
    let visit = SignedVisit {
        place: Place { log: row.get(0)?, seq: row.get(1)? },
        tag_key: TagKey(row.get(2)?),
        tag: row.get(3)?,
        service: row.get(4)?,
        site: row.get(5)?,
        signed_at: Claimed(row.get(6)?),
        verdict: row.get(7)?,
    };
    Ok(Raw(visit, Arrival(row.get(8)?), row.get(9)?))
}
