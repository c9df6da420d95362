//! What is known of photos.

use std::ops::Bound;

use bodies::PhotoHash;
use record::LogId;

use super::Memory;
use crate::{Arrival, Cited, Error, PhotoRow, Photos};

impl Photos for Memory {
    async fn photo(&self, photo: PhotoHash) -> Result<Option<PhotoRow>, Error> {
        Ok(self.state().photos.get(&photo).cloned())
    }

    async fn holds_photos(&self, photos: &[PhotoHash]) -> Result<Vec<bool>, Error> {
        let state = self.state();
        Ok(photos.iter().map(|photo| state.photos.get(photo).is_some_and(|row| row.whole)).collect())
    }

    async fn photos_of(&self, log: LogId, most: u32) -> Result<Vec<(PhotoHash, bool)>, Error> {
        let state = self.state();
        let of_log = state.cites.iter().filter(|((cited_by, _), _)| *cited_by == log);
        let mut cited: Vec<(Arrival, PhotoHash)> =
            of_log.map(|((_, photo), arrival)| (*arrival, *photo)).collect();
        cited.sort_by_key(|(arrival, photo)| (std::cmp::Reverse(*arrival), *photo));
        let whole = |photo| state.photos.get(&photo).is_some_and(|row| row.whole);
        Ok(cited.into_iter().take(most as usize).map(|(_, photo)| (photo, whole(photo))).collect())
    }

    async fn missing_photos(&self, after: Option<PhotoHash>, most: u32) -> Result<Vec<Cited>, Error> {
        let state = self.state();
        let from = after.map_or(Bound::Unbounded, Bound::Excluded);
        let missing = state.photos.range((from, Bound::Unbounded)).filter(|(_, row)| !row.whole);
        Ok(missing.take(most as usize).map(|(_, row)| row.cited.clone()).collect())
    }

    async fn piece_came(&self, photo: PhotoHash, piece: u32) -> Result<(), Error> {
        let mut state = self.writing()?;
        let row = state.photos.get_mut(&photo).ok_or(Error::NotCited { photo })?;
        if !row.whole {
            row.pieces.insert(piece);
        }
        Ok(())
    }

    async fn forget_pieces(&self, photo: PhotoHash) -> Result<(), Error> {
        let mut state = self.writing()?;
        state.photos.get_mut(&photo).ok_or(Error::NotCited { photo })?.pieces.clear();
        Ok(())
    }

    async fn set_whole(&self, photo: PhotoHash, whole: bool) -> Result<(), Error> {
        let mut state = self.writing()?;
        let row = state.photos.get_mut(&photo).ok_or(Error::NotCited { photo })?;
        row.whole = whole;
        row.pieces.clear();
        Ok(())
    }
}
