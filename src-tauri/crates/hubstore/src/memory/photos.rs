//! What is known of photos.

use std::collections::BTreeMap;
use std::ops::Bound;

use bodies::PhotoHash;
use record::LogId;

use super::Memory;
use super::state::State;
use crate::index::citation;
use crate::{Arrival, Citation, Cited, Error, PhotoRow, Photos};

impl Photos for Memory {
    async fn photo(&self, photo: PhotoHash) -> Result<Option<PhotoRow>, Error> {
        Ok(self.state().photo_of(photo, None))
    }

    async fn photo_as(&self, photo: PhotoHash, length: u64) -> Result<Option<PhotoRow>, Error> {
        Ok(self.state().photo_of(photo, Some(length)))
    }

    async fn citations(&self, photo: PhotoHash) -> Result<Vec<Citation>, Error> {
        let state = self.state();
        let of_photo = state.cites.iter().filter(|((_, cited), _)| *cited == photo);
        let by_arrival: BTreeMap<Arrival, &[u8]> = of_photo
            .filter_map(|(_, arrival)| Some((*arrival, state.entries.get(arrival)?.bytes.as_slice())))
            .collect();
        by_arrival.into_values().filter_map(|bytes| citation(bytes).transpose()).collect()
    }

    async fn holds_photos(&self, photos: &[PhotoHash]) -> Result<Vec<bool>, Error> {
        let state = self.state();
        Ok(photos.iter().map(|photo| state.is_whole(*photo)).collect())
    }

    async fn photos_of(&self, log: LogId, most: u32) -> Result<Vec<(PhotoHash, bool)>, Error> {
        let state = self.state();
        let of_log = state.cites.iter().filter(|((cited_by, _), _)| *cited_by == log);
        let mut cited: Vec<(Arrival, PhotoHash)> =
            of_log.map(|((_, photo), arrival)| (*arrival, *photo)).collect();
        cited.sort_by_key(|(arrival, photo)| (std::cmp::Reverse(*arrival), *photo));
        let newest = cited.into_iter().take(most as usize);
        Ok(newest.map(|(_, photo)| (photo, state.is_whole(photo))).collect())
    }

    async fn missing_photos(&self, after: Option<PhotoHash>, most: u32) -> Result<Vec<Cited>, Error> {
        let state = self.state();
        let from = after.map_or(Bound::Unbounded, Bound::Excluded);
        let missing = state.photos.range((from, Bound::Unbounded)).filter(|(_, (_, whole))| !whole);
        Ok(missing.take(most as usize).map(|(_, (cited, _))| cited.clone()).collect())
    }

    async fn piece_came(&self, photo: PhotoHash, length: u64, piece: u32) -> Result<(), Error> {
        let mut state = self.writing()?;
        if !state.cited(photo)?.1 {
            state.pieces.entry((photo, length)).or_default().insert(piece);
        }
        Ok(())
    }

    async fn forget_pieces(&self, photo: PhotoHash, length: u64) -> Result<(), Error> {
        let mut state = self.writing()?;
        state.cited(photo)?;
        state.pieces.remove(&(photo, length));
        Ok(())
    }

    async fn came_whole(&self, photo: PhotoHash, length: u64) -> Result<(), Error> {
        let mut state = self.writing()?;
        let (cited, whole) = state.cited(photo)?;
        (cited.length, *whole) = (length, true);
        state.pieces.retain(|(of, _), _| *of != photo);
        Ok(())
    }

    async fn went_missing(&self, photo: PhotoHash) -> Result<(), Error> {
        let mut state = self.writing()?;
        state.cited(photo)?.1 = false;
        Ok(())
    }
}

impl State {
    fn cited(&mut self, photo: PhotoHash) -> Result<&mut (Cited, bool), Error> {
        self.photos.get_mut(&photo).ok_or(Error::NotCited { photo })
    }

    fn is_whole(&self, photo: PhotoHash) -> bool {
        self.photos.get(&photo).is_some_and(|(_, whole)| *whole)
    }

    fn photo_of(&self, photo: PhotoHash, length: Option<u64>) -> Option<PhotoRow> {
        let (mut cited, whole) = self.photos.get(&photo).cloned()?;
        cited.length = length.filter(|_| !whole).unwrap_or(cited.length);
        let pieces = self.pieces.get(&(photo, cited.length)).cloned().unwrap_or_default();
        Some(PhotoRow { cited, whole, pieces })
    }
}
