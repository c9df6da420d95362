//! Putting right what a kill or a power cut left between the files and the database.

use std::collections::BTreeMap;

use bodies::PhotoHash;
use rusqlite::Connection;

use super::row::{self, Known, PhotoState};
use super::shelf::{self, Named, Shelf};
use super::{cite, keep};
use crate::{Error, Store, runs, salvage};

/// What was put right.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Tidied {
    /// Files removed that no entry and no row knows.
    pub removed: u32,
    /// Whole photos that were there without the database saying so.
    pub found: u32,
    /// Photos that the database said were here and whose file is gone or short. They are awaited again.
    pub lost: u32,
}

impl Store {
    /// Puts right what was left between the files and the database. For once at a start.
    ///
    /// A whole photo that an entry names is never removed. Neither is one that no entry names while entries may be
    /// missing here: the one that names it may be among them.
    ///
    /// # Errors
    ///
    /// What storage gives; what was put right until then stays so.
    pub fn tidy_photos(&self) -> Result<Tidied, Error> {
        let shelf = self.shelf()?;
        let mut tidied = Tidied::default();
        let files: BTreeMap<String, u64> = shelf.names()?.into_iter().collect();
        let (rows, sure) =
            self.read(|connection| Ok((row::rows(connection)?, nothing_missing(connection)?)))?;
        for known in rows.iter().filter(|known| known.state == PhotoState::Here) {
            if files.get(&shelf::whole(&known.hash)) != Some(&known.length) {
                let again = Known { state: PhotoState::Awaited, got: 0, ..known.clone() };
                self.write(|transaction| row::put(transaction, &again))?;
                tidied.lost += 1;
            }
        }
        for (name, length) in &files {
            match shelf::named(name) {
                // Writing it was cut off, and whoever kept it was not told that it is kept.
                Some(Named::Part) => {
                    shelf.remove(name)?;
                    tidied.removed += 1;
                }
                Some(Named::Whole(hash)) => {
                    self.tidy_whole(&*shelf, (name, *length), hash, sure, &mut tidied)?;
                }
                // Somebody else's file is left alone.
                None => {}
            }
        }
        Ok(tidied)
    }

    fn tidy_whole(
        &self,
        shelf: &dyn Shelf,
        (name, length): (&str, u64),
        hash: PhotoHash,
        sure: bool,
        tidied: &mut Tidied,
    ) -> Result<(), Error> {
        let known = self.read(|connection| row::row(connection, hash))?;
        let remove = match known {
            Some(known) if known.state == PhotoState::Here => return Ok(()),
            // Awaited, or freed just when the power went. Where it is whole it stays: the hub may have lost it since.
            Some(known) => {
                if keep::is_whole(shelf, name, hash)? {
                    // As long as it is: the entry that named it first may have said otherwise.
                    let here = Known { state: PhotoState::Here, length, got: length, ..known };
                    self.write(|transaction| row::put(transaction, &here))?;
                    tidied.found += 1;
                }
                false
            }
            None => sure && !self.read(|connection| cite::is_named(connection, hash))?,
        };
        if remove {
            shelf.remove(name)?;
            tidied.removed += 1;
        }
        Ok(())
    }
}

/// Whether no entry is known to be missing here.
fn nothing_missing(connection: &Connection) -> Result<bool, Error> {
    let hanging = runs::all(connection)?.values().any(|runs| runs.all().iter().any(|run| !run.rooted));
    Ok(!hanging && !salvage::ever(connection)?)
}
