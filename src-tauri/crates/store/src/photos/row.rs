//! A photo as the database knows it.

use bodies::PhotoHash;
use rusqlite::{Connection, OptionalExtension, Row, params};

use crate::seal::Seal;
use crate::{Error, Store};

/// Where a photo's bytes are, on this phone.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum PhotoState {
    /// Not here.
    Awaited,
    /// Here, whole.
    Here,
    /// It was here, and was given up for space after the hub had it in its backup.
    Freed,
}

impl PhotoState {
    fn word(self) -> &'static str {
        match self {
            PhotoState::Awaited => "awaited",
            PhotoState::Here => "here",
            PhotoState::Freed => "freed",
        }
    }

    /// Returns what a word stands for.
    pub(crate) fn from_word(word: &str) -> Option<PhotoState> {
        [PhotoState::Awaited, PhotoState::Here, PhotoState::Freed]
            .into_iter()
            .find(|state| state.word() == word)
    }
}

/// A photo's row.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Known {
    pub(crate) hash: PhotoHash,
    pub(crate) length: u64,
    pub(crate) media: String,
    pub(crate) state: PhotoState,
    pub(crate) got: u64,
}

impl Store {
    /// Returns where a photo is, or none for one that was never heard of.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when its row is not as it was written, and what storage gives.
    pub fn photo_state(&self, hash: PhotoHash) -> Result<Option<PhotoState>, Error> {
        self.read(|connection| state(connection, hash))
    }
}

const COLUMNS: &str = "hash, length, media, state, got, seal";

/// Returns a photo's row.
pub(crate) fn row(connection: &Connection, hash: PhotoHash) -> Result<Option<Known>, Error> {
    let found = connection
        .prepare_cached(&format!("SELECT {COLUMNS} FROM photo WHERE hash = ?1"))?
        .query_row([hash.0], raw)
        .optional()?;
    found.map(Raw::proved).transpose()
}

/// Returns where a photo is.
pub(crate) fn state(connection: &Connection, hash: PhotoHash) -> Result<Option<PhotoState>, Error> {
    Ok(row(connection, hash)?.map(|known| known.state))
}

/// Returns all rows, by hash.
pub(crate) fn rows(connection: &Connection) -> Result<Vec<Known>, Error> {
    let mut statement = connection.prepare_cached(&format!("SELECT {COLUMNS} FROM photo ORDER BY hash"))?;
    let rows = statement.query_map([], raw)?;
    rows.map(|row| row?.proved()).collect()
}

/// Puts a row in, in place of the one there was.
pub(crate) fn put(connection: &Connection, known: &Known) -> Result<(), Error> {
    connection
        .prepare_cached(
            "INSERT INTO photo (hash, length, media, state, got, seal) VALUES (?1, ?2, ?3, ?4, ?5, ?6) \
             ON CONFLICT (hash) DO UPDATE SET length = excluded.length, media = excluded.media, \
             state = excluded.state, got = excluded.got, seal = excluded.seal",
        )?
        .execute(params![
            known.hash.0,
            whole_number(known.length)?,
            known.media,
            known.state.word(),
            whole_number(known.got)?,
            seal(known).done()
        ])?;
    Ok(())
}

fn whole_number(number: u64) -> Result<i64, Error> {
    i64::try_from(number).map_err(|_| Error::Broken { what: "a photo longer than can be".to_owned() })
}

/// Puts in what a damaged file knew of a photo, where nothing more is known here.
pub(crate) fn take_over(connection: &Connection, known: &Known) -> Result<(), Error> {
    // Awaited is all that an entry by itself says.
    let more =
        row(connection, known.hash)?.is_none_or(|here| here.state == PhotoState::Awaited && here.got == 0);
    if more { put(connection, known) } else { Ok(()) }
}

/// Returns the seal of a photo's row.
pub(crate) fn seal(known: &Known) -> Seal {
    Seal::of("photo")
        .bytes(&known.hash.0)
        .bytes(&known.length.to_be_bytes())
        .text(&known.media)
        .text(known.state.word())
        .bytes(&known.got.to_be_bytes())
}

/// A row as it was read, not yet compared with its seal.
struct Raw {
    hash: [u8; 32],
    length: i64,
    media: String,
    state: String,
    got: i64,
    seal: Vec<u8>,
}

impl Raw {
    fn proved(self) -> Result<Known, Error> {
        let what = "what is known of a photo";
        let broken = || Error::Unreadable { what: format!("{what} is not as it was written") };
        let known = Known {
            hash: PhotoHash(self.hash),
            length: u64::try_from(self.length).map_err(|_| broken())?,
            media: self.media,
            state: PhotoState::from_word(&self.state).ok_or_else(broken)?,
            got: u64::try_from(self.got).map_err(|_| broken())?,
        };
        seal(&known).check(&self.seal, what)?;
        Ok(known)
    }
}

fn raw(row: &Row<'_>) -> rusqlite::Result<Raw> {
    Ok(Raw {
        hash: row.get(0)?,
        length: row.get(1)?,
        media: row.get(2)?,
        state: row.get(3)?,
        got: row.get(4)?,
        seal: row.get(5)?,
    })
}
