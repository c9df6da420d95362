//! Space: what photos take, and giving it back.
//!
//! Only photos are ever freed, and only those that the hub said, in its present epoch, are in its backup. A receipt of
//! an earlier epoch is history: the hub that gave it was restored since, perhaps from before.

use bodies::{Grade, PhotoHash};
use rusqlite::Connection;

use super::row::{self, Known, PhotoState};
use super::shelf;
use crate::{Error, Store, receipts};

/// What was freed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Freed {
    /// Photos.
    pub photos: u32,
    /// Their bytes.
    pub bytes: u64,
}

/// What photos take.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Space {
    /// Photos that are here, and bytes of them.
    pub here: Freed,
    /// Those of them that may be freed.
    pub may_go: Freed,
}

impl Store {
    /// Frees the space of one photo.
    ///
    /// # Errors
    ///
    /// [`Error::NoPhoto`] when it is not here, [`Error::NotBackedUp`] when the hub has not said that it is in its
    /// backup, and what storage gives. The photo then stays.
    pub fn free_photo(&self, hash: PhotoHash) -> Result<Freed, Error> {
        let shelf = self.shelf()?;
        let known = self.write(|transaction| {
            let known = row::row(transaction, hash)?.filter(|known| known.state == PhotoState::Here);
            let known = known.ok_or(Error::NoPhoto)?;
            if !receipts::has_photo(transaction, hash, Grade::BackedUp)? {
                return Err(Error::NotBackedUp);
            }
            row::put(transaction, &Known { state: PhotoState::Freed, got: 0, ..known.clone() })?;
            Ok(known)
        })?;
        // The database first: a file that nobody counts on is cleaned up later, a row without a file would be a loss. The
        // photo may have been taken again meanwhile, which only the writer of the moment knows for sure.
        self.write(|transaction| {
            if row::state(transaction, hash)? == Some(PhotoState::Freed) {
                shelf.remove(&shelf::whole(&hash))?;
            }
            Ok(())
        })?;
        Ok(Freed { photos: 1, bytes: known.length })
    }

    /// Frees the space of all photos that may go. One that may not any more, when its turn comes, stays.
    ///
    /// # Errors
    ///
    /// What storage gives; what was freed until then stays so.
    pub fn free_photos(&self) -> Result<Freed, Error> {
        let mut freed = Freed::default();
        for known in self.read(may_go)? {
            match self.free_photo(known.hash) {
                Ok(one) => {
                    freed = Freed { photos: freed.photos + one.photos, bytes: freed.bytes + one.bytes }
                }
                Err(Error::NoPhoto | Error::NotBackedUp) => {}
                Err(error) => return Err(error),
            }
        }
        Ok(freed)
    }

    /// Returns what photos take on this phone, and what of it could be freed.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when a row is not as it was written, and what storage gives.
    pub fn photo_space(&self) -> Result<Space, Error> {
        self.read(|connection| Ok(Space { here: sum(&here(connection)?), may_go: sum(&may_go(connection)?) }))
    }
}

fn here(connection: &Connection) -> Result<Vec<Known>, Error> {
    Ok(row::rows(connection)?.into_iter().filter(|known| known.state == PhotoState::Here).collect())
}

fn may_go(connection: &Connection) -> Result<Vec<Known>, Error> {
    let mut may_go = Vec::new();
    for known in here(connection)? {
        if receipts::has_photo(connection, known.hash, Grade::BackedUp)? {
            may_go.push(known);
        }
    }
    Ok(may_go)
}

fn sum(photos: &[Known]) -> Freed {
    let count = u32::try_from(photos.len()).unwrap_or(u32::MAX);
    Freed { photos: count, bytes: photos.iter().map(|known| known.length).sum() }
}
