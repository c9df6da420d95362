//! What is known of photos.

use bodies::PhotoHash;
use hubstore::{AnyStore, Cited, Error, Ledger, Photos};

use crate::writer::{Writer, batch};

pub(crate) async fn a_cited_photo_is_missing_until_whole(store: &AnyStore) {
    let mut asha = Writer::number(1);
    let (one, two) = (PhotoHash([1; 32]), PhotoHash([2; 32]));
    assert_eq!(store.photo(one).await.unwrap(), None);
    assert_eq!(store.piece_came(one, 0).await, Err(Error::NotCited { photo: one }));
    assert_eq!(store.set_whole(one, true).await, Err(Error::NotCited { photo: one }));
    let entries = [asha.photo(one, 700_000), asha.photo(two, 700_000)];
    store.ingest(batch(&[&asha], &entries)).await.unwrap();
    let cited = Cited { photo: one, length: 700_000, media: "image/jpeg".into() };
    assert_eq!(store.missing_photos(None, 1).await.unwrap(), std::slice::from_ref(&cited));
    assert_eq!(store.missing_photos(Some(one), 9).await.unwrap().len(), 1);
    for piece in [2, 0, 2] {
        store.piece_came(one, piece).await.unwrap();
    }
    let row = store.photo(one).await.unwrap().unwrap();
    assert_eq!((row.cited, row.whole, row.pieces), (cited, false, [0, 2].into()));
    store.forget_pieces(one).await.unwrap();
    assert!(store.photo(one).await.unwrap().unwrap().pieces.is_empty());
    assert_eq!(
        store.forget_pieces(PhotoHash([3; 32])).await,
        Err(Error::NotCited { photo: PhotoHash([3; 32]) })
    );
    store.piece_came(one, 0).await.unwrap();
    store.set_whole(one, true).await.unwrap();
    store.piece_came(one, 1).await.unwrap();
    let row = store.photo(one).await.unwrap().unwrap();
    assert!(row.whole && row.pieces.is_empty());
    store.forget_pieces(one).await.unwrap();
    assert_eq!(store.holds_photos(&[two, one, PhotoHash([3; 32])]).await.unwrap(), [false, true, false]);
    store.set_whole(one, false).await.unwrap();
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
    store.set_whole(photo(3), true).await.unwrap();
    let of_asha = store.photos_of(asha.log(), 9).await.unwrap();
    assert_eq!(of_asha, [(photo(1), false), (photo(3), true), (photo(2), false)]);
    assert_eq!(store.photos_of(asha.log(), 1).await.unwrap(), of_asha[..1]);
    assert_eq!(store.photos_of(ben.log(), 9).await.unwrap(), [(photo(1), false)]);
    assert_eq!(store.photo(photo(1)).await.unwrap().unwrap().cited.length, 10, "what was said first stays");
}
