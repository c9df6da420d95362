//! Photos that arrive in pieces, in memory and in a folder.
#![allow(clippy::unwrap_used, clippy::indexing_slicing, reason = "a panic here is the message")]

mod citing;

use std::sync::atomic::{AtomicUsize, Ordering};

use bodies::{PHOTO_BYTES, PhotoHash};
use bytes::Bytes;
use citing::{cites, citing, picture, pieces};
use futures_util::TryStreamExt;
use hubstore::{
    Citation, Cited, Error, Memory, PIECE, PhotoRow, PhotoStore, Photos, Piece, Taken, photo_hash, photo_name,
};
use record::LogId;
use rstest::rstest;
use tokio::sync::Barrier;

/// A hub that knows of one photo, and the folder its bytes go to, if any.
struct Hub {
    known: Memory,
    /// The length that was cited first.
    length: u64,
    photos: PhotoStore,
    folder: Option<tempfile::TempDir>,
}

/// What is known of one photo, told to two at once: who is told that all pieces are here waits until the other was told so too.
struct AtOnce {
    known: Memory,
    all: usize,
    told: Barrier,
    waiting: AtomicUsize,
}

impl Photos for AtOnce {
    async fn photo(&self, photo: PhotoHash) -> Result<Option<PhotoRow>, Error> {
        self.known.photo(photo).await
    }

    async fn photo_as(&self, photo: PhotoHash, length: u64) -> Result<Option<PhotoRow>, Error> {
        let row = self.known.photo_as(photo, length).await?;
        let ready = row.as_ref().is_some_and(|row| !row.whole && row.pieces.len() == self.all);
        if ready && self.waiting.fetch_add(1, Ordering::SeqCst) < 2 {
            self.told.wait().await;
        }
        Ok(row)
    }

    async fn citations(&self, photo: PhotoHash) -> Result<Vec<Citation>, Error> {
        self.known.citations(photo).await
    }

    async fn holds_photos(&self, photos: &[PhotoHash]) -> Result<Vec<bool>, Error> {
        self.known.holds_photos(photos).await
    }

    async fn photos_of(&self, log: LogId, most: u32) -> Result<Vec<(PhotoHash, bool)>, Error> {
        self.known.photos_of(log, most).await
    }

    async fn missing_photos(&self, after: Option<PhotoHash>, most: u32) -> Result<Vec<Cited>, Error> {
        self.known.missing_photos(after, most).await
    }

    async fn piece_came(&self, photo: PhotoHash, length: u64, piece: u32) -> Result<(), Error> {
        self.known.piece_came(photo, length, piece).await
    }

    async fn forget_pieces(&self, photo: PhotoHash, length: u64) -> Result<(), Error> {
        self.known.forget_pieces(photo, length).await
    }

    async fn came_whole(&self, photo: PhotoHash, length: u64) -> Result<(), Error> {
        self.known.came_whole(photo, length).await
    }

    async fn went_missing(&self, photo: PhotoHash) -> Result<(), Error> {
        self.known.went_missing(photo).await
    }
}

#[derive(Clone, Copy)]
enum Kept {
    InMemory,
    InAFolder,
}

async fn hub(kept: Kept, photo: PhotoHash, length: u64) -> Hub {
    let known = citing(photo, length).await;
    let (photos, folder) = match kept {
        Kept::InMemory => (PhotoStore::memory(), None),
        Kept::InAFolder => {
            let folder = tempfile::tempdir().unwrap();
            (PhotoStore::folder(&folder.path().join("photos")).unwrap(), Some(folder))
        }
    };
    Hub { known, length, photos, folder }
}

impl Hub {
    async fn take(&self, photo: PhotoHash, number: u32, bytes: &[u8]) -> Result<Taken, Error> {
        self.take_as(photo, self.length, number, bytes).await
    }

    async fn take_as(&self, photo: PhotoHash, of: u64, number: u32, bytes: &[u8]) -> Result<Taken, Error> {
        let piece = Piece { photo, of, number };
        self.photos.take_piece(&self.known, piece, Bytes::copy_from_slice(bytes)).await
    }

    /// All files there are, by their names.
    fn files(&self) -> Vec<String> {
        let Some(folder) = &self.folder else { return Vec::new() };
        let mut open = vec![folder.path().to_owned()];
        let mut files = Vec::new();
        while let Some(path) = open.pop() {
            for entry in std::fs::read_dir(path).unwrap() {
                let path = entry.unwrap().path();
                if path.is_dir() {
                    open.push(path);
                } else {
                    files.push(path.file_name().unwrap().to_string_lossy().into_owned());
                }
            }
        }
        files.sort();
        files
    }
}

#[rstest]
#[case::memory(Kept::InMemory)]
#[case::folder(Kept::InAFolder)]
#[tokio::test]
async fn pieces_in_any_order_come_to_the_photo(#[case] kept: Kept) {
    let bytes = picture(700_000);
    let photo = photo_hash(&bytes);
    let hub = hub(kept, photo, 700_000).await;
    let cut = pieces(&bytes);
    assert_eq!(hub.take(photo, 2, cut[2]).await.unwrap(), Taken::Waiting(vec![0, 1]));
    assert_eq!(hub.take(photo, 0, cut[0]).await.unwrap(), Taken::Waiting(vec![1]));
    assert_eq!(hub.take(photo, 0, cut[0]).await.unwrap(), Taken::Waiting(vec![1]));
    assert_eq!(
        hub.photos.length(photo).await.unwrap(),
        None,
        "nothing stands in its place before all is there"
    );
    assert!(!hub.photos.is_sound(photo).await.unwrap());
    assert_eq!(hub.take(photo, 1, cut[1]).await.unwrap(), Taken::Whole);
    assert_eq!(hub.take(photo, 1, cut[1]).await.unwrap(), Taken::Whole);
    assert!(hub.known.photo(photo).await.unwrap().unwrap().whole);
    assert_eq!(hub.photos.length(photo).await.unwrap(), Some(700_000));
    assert_eq!(hub.photos.part(photo, 262_140..262_150).await.unwrap().unwrap(), bytes[262_140..262_150]);
    let read: Vec<Bytes> = hub.photos.read(photo).await.unwrap().unwrap().try_collect().await.unwrap();
    assert_eq!(read.concat(), bytes);
    assert!(hub.photos.is_sound(photo).await.unwrap());
    if matches!(kept, Kept::InAFolder) {
        assert_eq!(hub.files(), [photo_name(photo)], "no piece is left");
    }
}

#[rstest]
#[case::memory(Kept::InMemory)]
#[case::folder(Kept::InAFolder)]
#[tokio::test]
async fn what_is_not_the_photo_is_dropped_and_may_come_anew(#[case] kept: Kept) {
    let bytes = picture(300_000);
    let photo = photo_hash(&bytes);
    let hub = hub(kept, photo, 300_000).await;
    let mut other = bytes.clone();
    other[10] ^= 1;
    hub.take(photo, 0, pieces(&other)[0]).await.unwrap();
    let wrong = hub.take(photo, 1, pieces(&bytes)[1]).await.unwrap_err();
    assert!(matches!(wrong, Error::WrongPhoto { .. }), "{wrong:?}");
    assert_eq!(hub.photos.length(photo).await.unwrap(), None);
    assert_eq!(hub.files(), [""; 0]);
    let row = hub.known.photo(photo).await.unwrap().unwrap();
    assert!(!row.whole && row.pieces.is_empty());
    assert_eq!(hub.take(photo, 0, pieces(&bytes)[0]).await.unwrap(), Taken::Waiting(vec![1]));
    assert_eq!(hub.take(photo, 1, pieces(&bytes)[1]).await.unwrap(), Taken::Whole);
}

#[rstest]
#[case::memory(Kept::InMemory)]
#[case::folder(Kept::InAFolder)]
#[tokio::test]
async fn the_last_piece_twice_at_once_leaves_a_whole_photo(#[case] kept: Kept) {
    let bytes = picture(700_000);
    let photo = photo_hash(&bytes);
    let Hub { known, photos, folder: _folder, .. } = hub(kept, photo, 700_000).await;
    let cut = pieces(&bytes);
    let known = AtOnce { known, all: cut.len(), told: Barrier::new(2), waiting: AtomicUsize::new(0) };
    for piece in [0, 1] {
        let bytes = Bytes::copy_from_slice(cut[piece as usize]);
        photos.take_piece(&known, Piece { photo, of: 700_000, number: piece }, bytes).await.unwrap();
    }
    let piece = Piece { photo, of: 700_000, number: 2 };
    let last = || photos.take_piece(&known, piece, Bytes::copy_from_slice(cut[2]));
    let (one, other) = tokio::join!(last(), last());
    assert_eq!((one.unwrap(), other.unwrap()), (Taken::Whole, Taken::Whole));
    assert!(known.photo(photo).await.unwrap().unwrap().whole);
    assert!(photos.is_sound(photo).await.unwrap());
}

#[tokio::test]
async fn what_is_no_piece_is_refused() {
    let bytes = picture(300_000);
    let photo = photo_hash(&bytes);
    let hub = hub(Kept::InMemory, photo, 300_000).await;
    let stranger = PhotoHash([9; 32]);
    assert_eq!(hub.take(stranger, 0, &bytes[..9]).await, Err(Error::NotCited { photo: stranger }));
    for (piece, bytes) in [(0, &bytes[..9]), (1, &bytes[..40_000]), (2, &bytes[..0]), (u32::MAX, &bytes[..9])]
    {
        let refused = hub.take(photo, piece, bytes).await.unwrap_err();
        assert!(matches!(refused, Error::NotAPiece { .. }), "{piece}");
    }
    assert!(hub.known.photo(photo).await.unwrap().unwrap().pieces.is_empty());
}

#[rstest]
#[case::a_byte_more(PHOTO_BYTES + 1)]
#[case::as_long_as_can_be_named(i64::MAX.unsigned_abs())]
#[tokio::test]
async fn of_a_photo_longer_than_any_no_piece_is_kept(#[case] length: u64) {
    let photo = PhotoHash([5; 32]);
    let hub = hub(Kept::InAFolder, photo, length).await;
    let refused = hub.take(photo, 0, &picture(PIECE as usize)).await.unwrap_err();
    assert_eq!(refused, Error::PhotoTooLong { photo });
    assert!(refused.to_string().contains("256 MiB") && !refused.is_retryable(), "{refused}");
    assert_eq!(hub.files(), [""; 0]);
    assert!(hub.known.photo(photo).await.unwrap().unwrap().pieces.is_empty());
}

#[tokio::test]
async fn a_piece_that_a_power_cut_took_is_asked_for_anew() {
    let bytes = picture(300_000);
    let photo = photo_hash(&bytes);
    let hub = hub(Kept::InAFolder, photo, 300_000).await;
    hub.take(photo, 0, pieces(&bytes)[0]).await.unwrap();
    let piece =
        hub.folder.as_ref().unwrap().path().join("photos/pieces").join(photo_name(photo)).join("300000/0");
    for spoil in [Some(&b""[..]), None] {
        match spoil {
            Some(left) => std::fs::write(&piece, left).unwrap(),
            None => std::fs::remove_file(&piece).unwrap(),
        }
        let wrong = hub.take(photo, 1, pieces(&bytes)[1]).await.unwrap_err();
        assert!(matches!(wrong, Error::WrongPhoto { .. }), "{wrong:?}");
        assert_eq!(hub.take(photo, 0, pieces(&bytes)[0]).await.unwrap(), Taken::Waiting(vec![1]));
    }
    assert_eq!(hub.take(photo, 1, pieces(&bytes)[1]).await.unwrap(), Taken::Whole);
}

#[tokio::test]
async fn a_large_photo_goes_in_several_parts_and_into_a_backup() {
    let bytes = picture(11 * 1024 * 1024 + 5);
    let photo = photo_hash(&bytes);
    let hub = hub(Kept::InAFolder, photo, bytes.len() as u64).await;
    let mut last = Taken::Waiting(vec![]);
    for (piece, bytes) in (0..).zip(pieces(&bytes)) {
        last = hub.take(photo, piece, bytes).await.unwrap();
    }
    assert_eq!(last, Taken::Whole);
    let backup = PhotoStore::memory();
    backup.copy_from(&hub.photos, photo).await.unwrap();
    assert!(backup.is_sound(photo).await.unwrap());
    let file = hub.folder.as_ref().unwrap().path().join("photos/photos");
    let file = file.join(&photo_name(photo)[..2]).join(photo_name(photo));
    let mut spoilt = bytes.clone();
    spoilt[5_000_000] ^= 1;
    std::fs::write(&file, &spoilt).unwrap();
    assert!(!hub.photos.is_sound(photo).await.unwrap());
    let other = PhotoStore::memory();
    assert!(matches!(other.copy_from(&hub.photos, photo).await, Err(Error::WrongPhoto { .. })));
    assert_eq!(other.length(photo).await.unwrap(), None);
    assert!(matches!(other.copy_from(&backup, PhotoHash([1; 32])).await, Err(Error::WrongPhoto { .. })));
}

/// Somebody else names the photo first, as a byte longer, and brings pieces of that between all others.
#[rstest]
#[case::memory(Kept::InMemory)]
#[case::folder(Kept::InAFolder)]
#[tokio::test]
async fn a_wrong_length_keeps_no_photo_from_coming(#[case] kept: Kept) {
    let bytes = picture(700_000);
    let photo = photo_hash(&bytes);
    let hub = hub(kept, photo, 700_001).await;
    let refused = hub.take_as(photo, 700_000, 0, pieces(&bytes)[0]).await;
    assert_eq!(refused, Err(Error::OtherLength { photo }), "no record says so yet");
    cites(&hub.known, 2, photo, 700_000).await;
    let mut other = bytes.clone();
    other.reverse();
    other.push(7);
    let mut last = Taken::Waiting(vec![]);
    for (number, (piece, between)) in (0..).zip(pieces(&bytes).into_iter().zip(pieces(&other))) {
        if number == 2 {
            // All of the other length are here now, and are not the photo.
            let wrong = hub.take(photo, number, between).await.unwrap_err();
            assert!(matches!(wrong, Error::WrongPhoto { .. }), "{wrong:?}");
            hub.take(photo, 0, pieces(&other)[0]).await.unwrap();
        } else {
            hub.take(photo, number, between).await.unwrap();
        }
        last = hub.take_as(photo, 700_000, number, piece).await.unwrap();
    }
    assert_eq!(last, Taken::Whole);
    let row = hub.known.photo(photo).await.unwrap().unwrap();
    assert_eq!((row.whole, row.cited.length), (true, 700_000), "the hash decided");
    assert!(hub.photos.is_sound(photo).await.unwrap());
    // What lies about of the other length is cleared.
    let left = u64::from(matches!(kept, Kept::InAFolder));
    assert_eq!(hub.files().len() as u64, 2 * left);
    assert_eq!(hub.photos.clear_pieces(&hub.known).await.unwrap(), 1);
    assert_eq!(hub.files().len() as u64, left);
}

#[tokio::test]
async fn pieces_that_nobody_waits_for_are_cleared() {
    let bytes = picture(300_000);
    let photo = photo_hash(&bytes);
    let hub = hub(Kept::InAFolder, photo, 300_000).await;
    hub.take(photo, 0, pieces(&bytes)[0]).await.unwrap();
    let folder = hub.folder.as_ref().unwrap().path().join("photos/pieces");
    // Of a photo that nobody cites; of a length that nobody says; as an earlier version kept them; of nothing at all.
    let (stranger, own) = (photo_name(PhotoHash([3; 32])), photo_name(photo));
    let strays = [format!("{stranger}/300000"), format!("{own}/299999"), own, "no photo".to_owned()];
    for stray in &strays {
        std::fs::create_dir_all(folder.join(stray)).unwrap();
        std::fs::write(folder.join(stray).join("0"), "stray").unwrap();
    }
    assert_eq!(hub.photos.clear_pieces(&hub.known).await.unwrap(), 4);
    assert_eq!(hub.files(), ["0"]);
    assert_eq!(hub.take(photo, 1, pieces(&bytes)[1]).await.unwrap(), Taken::Whole);
}
