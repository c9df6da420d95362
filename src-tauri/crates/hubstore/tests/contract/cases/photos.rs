//! What is known of photos.

use bodies::PhotoHash;
use hubstore::{AnyStore, Citation, Cited, Error, Ledger, Photos};

use crate::writer::{Writer, batch};

const LENGTH: u64 = 700_000;

pub(crate) async fn a_cited_photo_is_missing_until_whole(store: &AnyStore) {
    let mut asha = Writer::number(1);
    let (one, two) = (PhotoHash([1; 32]), PhotoHash([2; 32]));
    assert_eq!(store.photo(one).await.unwrap(), None);
    assert_eq!(store.photo_as(one, LENGTH).await.unwrap(), None);
    let not_cited = Err(Error::NotCited { photo: one });
    assert_eq!(store.piece_came(one, LENGTH, 0).await, not_cited);
    assert_eq!(store.forget_pieces(one, LENGTH).await, not_cited);
    assert_eq!(store.came_whole(one, LENGTH).await, not_cited);
    assert_eq!(store.went_missing(one).await, not_cited);
    let entries = [asha.photo(one, LENGTH), asha.photo(two, LENGTH)];
    store.ingest(batch(&[&asha], &entries)).await.unwrap();
    let cited = Cited { photo: one, length: LENGTH, media: "image/jpeg".into() };
    assert_eq!(store.missing_photos(None, 1).await.unwrap(), std::slice::from_ref(&cited));
    assert_eq!(store.missing_photos(Some(one), 9).await.unwrap().len(), 1);
    for piece in [2, 0, 2] {
        store.piece_came(one, LENGTH, piece).await.unwrap();
    }
    let row = store.photo(one).await.unwrap().unwrap();
    assert_eq!((row.cited, row.whole, row.pieces), (cited, false, [0, 2].into()));
    store.forget_pieces(one, LENGTH).await.unwrap();
    assert!(store.photo(one).await.unwrap().unwrap().pieces.is_empty());
    store.piece_came(one, LENGTH, 0).await.unwrap();
    store.came_whole(one, LENGTH).await.unwrap();
    store.piece_came(one, LENGTH, 1).await.unwrap();
    let row = store.photo(one).await.unwrap().unwrap();
    assert!(row.whole && row.pieces.is_empty());
    store.forget_pieces(one, LENGTH).await.unwrap();
    assert_eq!(store.holds_photos(&[two, one, PhotoHash([3; 32])]).await.unwrap(), [false, true, false]);
    store.went_missing(one).await.unwrap();
    assert_eq!(store.missing_photos(None, 9).await.unwrap().len(), 2);
}

pub(crate) async fn photos_of_a_log_come_newest_first(store: &AnyStore) {
    let (mut asha, mut ben) = (Writer::number(1), Writer::number(2));
    let photo = |number: u8| PhotoHash([number; 32]);
    let entries = [
        asha.photo(photo(1), 10),
        asha.photo(photo(2), 10),
        ben.photo(photo(1), 99),
        asha.photo(photo(3), 10),
        asha.photo(photo(1), 10),
    ];
    store.ingest(batch(&[&asha, &ben], &entries)).await.unwrap();
    store.came_whole(photo(3), 10).await.unwrap();
    let of_asha = store.photos_of(asha.log(), 9).await.unwrap();
    assert_eq!(of_asha, [(photo(1), false), (photo(3), true), (photo(2), false)]);
    assert_eq!(store.photos_of(asha.log(), 1).await.unwrap(), of_asha[..1]);
    assert_eq!(store.photos_of(ben.log(), 9).await.unwrap(), [(photo(1), false)]);
}

/// Whoever is first may be wrong: were its length the only one, the photo itself could never come.
pub(crate) async fn a_photo_of_several_lengths_has_the_one_that_came(store: &AnyStore) {
    let (mut asha, mut ben) = (Writer::number(1), Writer::number(2));
    let photo = PhotoHash([1; 32]);
    let entries = [asha.photo(photo, 10), ben.photo(photo, 99), asha.photo(PhotoHash([2; 32]), 7)];
    store.ingest(batch(&[&asha, &ben], &entries)).await.unwrap();
    let says = |writer: &Writer, length| Citation { log: writer.log(), length, tag: "LT-201".into() };
    assert_eq!(store.citations(photo).await.unwrap(), [says(&asha, 10), says(&ben, 99)]);
    assert_eq!(store.citations(PhotoHash([9; 32])).await.unwrap(), []);
    // Pieces of the one are none of the other.
    store.piece_came(photo, 10, 0).await.unwrap();
    store.piece_came(photo, 99, 1).await.unwrap();
    let pieces = async |length| store.photo_as(photo, length).await.unwrap().unwrap().pieces;
    assert_eq!((pieces(10).await, pieces(99).await), ([0].into(), [1].into()));
    assert!(pieces(98).await.is_empty());
    let row = store.photo(photo).await.unwrap().unwrap();
    assert_eq!(
        (row.cited.length, row.pieces),
        (10, [0].into()),
        "until it is whole, what was said first stands"
    );
    store.forget_pieces(photo, 10).await.unwrap();
    assert_eq!((pieces(10).await, pieces(99).await), ([].into(), [1].into()));
    store.piece_came(photo, 10, 0).await.unwrap();
    store.came_whole(photo, 99).await.unwrap();
    for row in [store.photo(photo).await, store.photo_as(photo, 10).await] {
        let row = row.unwrap().unwrap();
        assert_eq!((row.whole, row.cited.length, row.pieces.len()), (true, 99, 0), "the bytes told");
    }
    // Gone again, its length stays known, and no piece of before is believed to be here.
    store.went_missing(photo).await.unwrap();
    let row = store.photo(photo).await.unwrap().unwrap();
    assert_eq!((row.whole, row.cited.length, row.pieces.len()), (false, 99, 0));
    assert!(pieces(10).await.is_empty());
    // A log that says another length is believed to mean the last.
    let again = [ben.photo(photo, 98)];
    store.ingest(batch(&[&ben], &again)).await.unwrap();
    assert_eq!(store.citations(photo).await.unwrap(), [says(&asha, 10), says(&ben, 98)]);
    assert_eq!(store.photo(photo).await.unwrap().unwrap().cited.length, 99);
}
