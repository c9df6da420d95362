//! Photos in an object store that speaks S3 over the network, as a hub of several machines keeps them.
//!
//! Needs one: `tests/lib/objects.sh cargo test -p hubstore --features s3-tests --test objects`.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::indexing_slicing,
    reason = "a panic here is the message"
)]

mod citing;

use std::net::TcpListener;
use std::time::{Duration, Instant};

use bodies::PhotoHash;
use bytes::Bytes;
use citing::{citing, picture, pieces};
use futures_util::TryStreamExt;
use hubstore::{Error, Memory, PhotoStore, Photos, Piece, S3, Taken, photo_hash};

fn variable(name: &str) -> String {
    std::env::var(name).expect("There is no object store here. Run this through tests/lib/objects.sh")
}

/// The store, in a folder of the test's own.
fn store(folder: &str) -> S3 {
    S3 {
        endpoint: variable("HEADMARK_TEST_S3_ENDPOINT"),
        region: "us-east-1".into(),
        bucket: "photos".into(),
        folder: folder.into(),
        key: variable("HEADMARK_TEST_S3_KEY"),
        secret: variable("HEADMARK_TEST_S3_SECRET"),
    }
}

fn open(at: &S3) -> PhotoStore {
    PhotoStore::s3(at).unwrap()
}

async fn take(
    photos: &PhotoStore,
    known: &Memory,
    photo: PhotoHash,
    piece: usize,
    bytes: &[u8],
) -> Result<Taken, Error> {
    let of = known.photo(photo).await?.map_or(0, |row| row.cited.length);
    let piece = Piece { photo, of, number: u32::try_from(piece).unwrap() };
    photos.take_piece(known, piece, Bytes::copy_from_slice(bytes)).await
}

/// What whoever asked is told names neither an address nor the key.
fn tells_nothing(error: &Error, at: &S3) {
    let said = error.to_string();
    for secret in [at.endpoint.trim_start_matches("http://"), at.key.as_str(), at.secret.as_str()] {
        assert!(!said.contains(secret), "{said}");
    }
}

#[tokio::test]
async fn a_photo_comes_in_pieces_by_two_processes_and_is_read_whole_and_in_parts() {
    // Large enough for several parts of an upload: no part but the last is below 5 MiB.
    let bytes = picture(6 * 1024 * 1024 + 5);
    let photo = photo_hash(&bytes);
    let known = citing(photo, bytes.len() as u64).await;
    // What the one has begun the other finishes: nothing is kept in a process.
    let processes = [open(&store("whole")), open(&store("whole"))];
    processes[0].ready().await.unwrap();
    let cut = pieces(&bytes);
    assert_eq!(take(&processes[0], &known, photo, 1, cut[1]).await.unwrap(), {
        let missing = (0..25).filter(|piece| *piece != 1).collect();
        Taken::Waiting(missing)
    });
    for (piece, bytes) in cut.iter().enumerate().take(cut.len() - 1) {
        let taken = take(&processes[piece % 2], &known, photo, piece, bytes).await.unwrap();
        assert!(matches!(taken, Taken::Waiting(_)), "{piece}");
    }
    assert_eq!(
        processes[0].length(photo).await.unwrap(),
        None,
        "nothing stands in its place before all is there"
    );
    let last = cut.len() - 1;
    assert_eq!(take(&processes[1], &known, photo, last, cut[last]).await.unwrap(), Taken::Whole);
    assert!(known.photo(photo).await.unwrap().unwrap().whole);

    let photos = open(&store("whole"));
    assert_eq!(photos.length(photo).await.unwrap(), Some(bytes.len() as u64));
    let middle = photos.part(photo, 262_140..262_150).await.unwrap().unwrap();
    assert_eq!(middle, bytes[262_140..262_150]);
    let read: Vec<Bytes> = photos.read(photo).await.unwrap().unwrap().try_collect().await.unwrap();
    assert!(read.concat() == bytes && photos.is_sound(photo).await.unwrap());
    // No piece is left lying, and another folder of the bucket has nothing of it.
    assert_eq!(photos.clear_pieces(&Memory::new()).await.unwrap(), 0);
    assert_eq!(open(&store("elsewhere")).length(photo).await.unwrap(), None);
    let backup = PhotoStore::memory();
    backup.copy_from(&photos, photo).await.unwrap();
    let restored = open(&store("restored"));
    restored.copy_from(&backup, photo).await.unwrap();
    assert!(restored.is_sound(photo).await.unwrap());
}

#[tokio::test]
async fn what_is_not_the_photo_never_stands_in_its_place() {
    let bytes = picture(300_000);
    let photo = photo_hash(&bytes);
    let (known, photos) = (citing(photo, 300_000).await, open(&store("wrong")));
    let mut other = bytes.clone();
    other[10] ^= 1;
    take(&photos, &known, photo, 0, pieces(&other)[0]).await.unwrap();
    let wrong = take(&photos, &known, photo, 1, pieces(&bytes)[1]).await.unwrap_err();
    assert!(matches!(wrong, Error::WrongPhoto { .. }), "{wrong:?}");
    assert_eq!(photos.length(photo).await.unwrap(), None);
    let row = known.photo(photo).await.unwrap().unwrap();
    assert!(!row.whole && row.pieces.is_empty());
    assert_eq!(photos.clear_pieces(&known).await.unwrap(), 0, "its pieces went");
    assert_eq!(take(&photos, &known, photo, 0, pieces(&bytes)[0]).await.unwrap(), Taken::Waiting(vec![1]));
    assert_eq!(take(&photos, &known, photo, 1, pieces(&bytes)[1]).await.unwrap(), Taken::Whole);
    assert!(photos.is_sound(photo).await.unwrap());
}

#[tokio::test]
async fn a_bucket_that_is_not_there_is_told_and_nothing_is_called_lost() {
    let bytes = picture(1_000);
    let photo = photo_hash(&bytes);
    let known = citing(photo, 1_000).await;
    let at = S3 { bucket: "nowhere".into(), ..store("") };
    let photos = open(&at);
    for error in
        [photos.ready().await.unwrap_err(), take(&photos, &known, photo, 0, &bytes).await.unwrap_err()]
    {
        assert!(matches!(error, Error::Io { .. }) && error.is_retryable(), "{error:?}");
        assert!(error.to_string().contains("is not there"), "{error}");
        tells_nothing(&error, &at);
    }
    let row = known.photo(photo).await.unwrap().unwrap();
    assert!(!row.whole && row.pieces.is_empty(), "what was not kept is not noted as kept");
    assert_eq!(take(&open(&store("bucket")), &known, photo, 0, &bytes).await.unwrap(), Taken::Whole);
}

#[tokio::test]
async fn a_wrong_key_is_refused_and_may_be_mended() {
    let bytes = picture(1_000);
    let photo = photo_hash(&bytes);
    let known = citing(photo, 1_000).await;
    let good = store("key");
    for at in [
        S3 { secret: "another".into(), ..good.clone() },
        S3 { key: "AKIANOBODYKNOWSTHIS1".into(), ..good.clone() },
    ] {
        let photos = open(&at);
        for error in [
            photos.ready().await.unwrap_err(),
            take(&photos, &known, photo, 0, &bytes).await.unwrap_err(),
            photos.length(photo).await.unwrap_err(),
            photos.is_sound(photo).await.unwrap_err(),
        ] {
            assert!(matches!(error, Error::Io { .. }) && error.is_retryable(), "{error:?}");
            tells_nothing(&error, &at);
        }
    }
    assert!(known.photo(photo).await.unwrap().unwrap().pieces.is_empty());
    assert_eq!(take(&open(&good), &known, photo, 0, &bytes).await.unwrap(), Taken::Whole);
}

#[tokio::test]
async fn a_store_that_is_down_is_told_soon_and_is_tried_again() {
    let bytes = picture(1_000);
    let photo = photo_hash(&bytes);
    let known = citing(photo, 1_000).await;
    // A port at which nothing listens any more.
    let gone = TcpListener::bind("127.0.0.1:0").unwrap().local_addr().unwrap();
    let at = S3 { endpoint: format!("http://{gone}"), ..store("down") };
    let photos = open(&at);
    let begun = Instant::now();
    for error in
        [photos.ready().await.unwrap_err(), take(&photos, &known, photo, 0, &bytes).await.unwrap_err()]
    {
        assert!(matches!(error, Error::Unreachable { .. }) && error.is_retryable(), "{error:?}");
        tells_nothing(&error, &at);
    }
    let took = begun.elapsed();
    assert!(took < Duration::from_secs(20), "a phone waits meanwhile: {took:?}");
    assert!(known.photo(photo).await.unwrap().unwrap().pieces.is_empty());
    assert_eq!(take(&open(&store("down")), &known, photo, 0, &bytes).await.unwrap(), Taken::Whole);
}
