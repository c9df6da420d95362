//! Visits under way, saved at every input.
//!
//! A draft is text to this crate. It is the only thing on the phone that exists nowhere else, so a save is a
//! transaction of its own and is on the storage before the call returns. Drafts are ordered by a count of
//! saves, never by a clock: a clock that was set back must not hide the visit that was just left.

use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::seal::Seal;
use crate::{Claimed, Error, Store};

/// A draft as it was last saved.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Draft {
    /// Its id, given by the caller, never used twice.
    pub id: String,
    /// The tag of its instrument, for lists.
    pub tag: String,
    /// Its text, as the caller wrote it.
    pub body: String,
    /// When it was saved, as the phone's clock claimed.
    pub saved_at: Claimed,
}

const COLUMNS: &str = "id, tag, body, saved_at, touched, seal";

impl Store {
    /// Saves a draft, new or not. Once this returns `Ok` the draft survives a power cut.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives; the draft is then as it was saved before.
    pub fn save_draft(&self, draft: &Draft) -> Result<(), Error> {
        self.write(|transaction| {
            let touched = next_touch(transaction)?;
            transaction
                .prepare_cached(
                    "INSERT INTO draft (id, tag, body, saved_at, touched, seal) \
                     VALUES (?1, ?2, ?3, ?4, ?5, ?6) \
                     ON CONFLICT (id) DO UPDATE SET tag = excluded.tag, body = excluded.body, \
                     saved_at = excluded.saved_at, touched = excluded.touched, seal = excluded.seal",
                )?
                .execute(params![
                    draft.id,
                    draft.tag,
                    draft.body,
                    draft.saved_at.0,
                    touched,
                    seal(draft, touched).done()
                ])?;
            Ok(())
        })
    }

    /// Returns a draft, or none when it was signed, discarded or never begun.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when it is not as it was written, and what storage gives.
    pub fn draft(&self, id: &str) -> Result<Option<Draft>, Error> {
        self.read(|connection| {
            let found = connection
                .prepare_cached(&format!("SELECT {COLUMNS} FROM draft WHERE id = ?1"))?
                .query_row([id], raw)
                .optional()?;
            found.map(Raw::proved).transpose()
        })
    }

    /// Returns all drafts, the one saved last first.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when one is not as it was written, and what storage gives.
    pub fn drafts(&self) -> Result<Vec<Draft>, Error> {
        self.read(|connection| {
            let mut statement =
                connection.prepare_cached(&format!("SELECT {COLUMNS} FROM draft ORDER BY touched DESC"))?;
            let rows = statement.query_map([], raw)?;
            rows.map(|row| row?.proved()).collect()
        })
    }

    /// Removes a draft for good, because a person said so.
    ///
    /// # Errors
    ///
    /// [`Error::NoDraft`] when there is none, and what storage gives.
    pub fn discard(&self, id: &str) -> Result<(), Error> {
        self.write(|transaction| {
            if remove(transaction, id)? {
                return Ok(());
            }
            Err(Error::NoDraft { id: id.to_owned() })
        })
    }
}

/// Removes a draft within a transaction and returns whether it was there.
pub(crate) fn remove(connection: &Connection, id: &str) -> Result<bool, Error> {
    let rows = connection.prepare_cached("DELETE FROM draft WHERE id = ?1")?.execute([id])?;
    Ok(rows > 0)
}

/// Adds a draft within a transaction, where there is none with its id, and returns whether it did.
pub(crate) fn put_new(connection: &Connection, draft: &Draft) -> Result<bool, Error> {
    let touched = next_touch(connection)?;
    let rows = connection
        .prepare_cached(
            "INSERT INTO draft (id, tag, body, saved_at, touched, seal) VALUES (?1, ?2, ?3, ?4, ?5, ?6) \
             ON CONFLICT (id) DO NOTHING",
        )?
        .execute(params![
            draft.id,
            draft.tag,
            draft.body,
            draft.saved_at.0,
            touched,
            seal(draft, touched).done()
        ])?;
    Ok(rows > 0)
}

/// The number of the next save.
fn next_touch(connection: &Connection) -> Result<i64, Error> {
    Ok(connection
        .prepare_cached("SELECT coalesce(max(touched), 0) + 1 FROM draft")?
        .query_row([], |row| row.get(0))?)
}

/// Returns the seal of a draft's row.
pub(crate) fn seal(draft: &Draft, touched: i64) -> Seal {
    Seal::of("draft")
        .text(&draft.id)
        .text(&draft.tag)
        .text(&draft.body)
        .number(draft.saved_at.0)
        .number(touched)
}

/// A row as it was read, not yet compared with its seal.
struct Raw(Draft, i64, Vec<u8>);

impl Raw {
    fn proved(self) -> Result<Draft, Error> {
        seal(&self.0, self.1).check(&self.2, &format!("the draft of a visit to {}", self.0.tag))?;
        Ok(self.0)
    }
}

fn raw(row: &Row<'_>) -> rusqlite::Result<Raw> {
    let draft =
        Draft { id: row.get(0)?, tag: row.get(1)?, body: row.get(2)?, saved_at: Claimed(row.get(3)?) };
    Ok(Raw(draft, row.get(4)?, row.get(5)?))
}
