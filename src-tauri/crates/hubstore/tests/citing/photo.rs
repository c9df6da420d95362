//! A hub's database that knows of one photo, and pictures for it.

use bodies::{Confirmed, Observation, Observed, PersonId, Photo, PhotoHash, Technician};
use hubstore::{Batch, Ledger, Memory, NewEntry, NewLog, PIECE};
use record::{Claimed, Link, SecretKey, Signer, open, seal};

/// Returns a database in which a record cites a photo.
pub(crate) async fn citing(photo: PhotoHash, length: u64) -> Memory {
    let known = Memory::new();
    cites(&known, 1, photo, length).await;
    known
}

/// Has a record of the phone with this number cite a photo.
pub(crate) async fn cites(known: &Memory, number: u8, photo: PhotoHash, length: u64) {
    let key = SecretKey::take(&mut [number; 32]);
    let observation = Observation {
        app: "0.1.0".into(),
        technician: Technician { person: PersonId([4; 16]), confirmed: Confirmed::Pin },
        tag: "LT-201".into(),
        what: Observed::Photo,
        photo: Some(Photo { hash: photo, length, media_type: "image/jpeg".into() }),
        readings: vec![],
        note: String::new(),
        made_for: String::new(),
    };
    let new = record::NewEntry {
        link: Link::First,
        kind: bodies::OBSERVATION,
        body_version: bodies::OBSERVATION_VERSION,
        claimed: Claimed { millis: 0, offset_minutes: 0 },
        boot: None,
    };
    let sealed = seal(&new, &observation.encode().unwrap(), &key).unwrap();
    let entries = vec![NewEntry::of(&open(&sealed.bytes).unwrap())];
    let vouched = vec![NewLog { log: key.public().log(), key: key.public().cose().to_vec() }];
    known.ingest(Batch { known: vouched, entries, ..Batch::default() }).await.unwrap();
}

/// Returns a picture that is no other's.
pub(crate) fn picture(length: usize) -> Vec<u8> {
    (0..length).map(|at| u8::try_from((at * 31 + at / 251) % 256).unwrap()).collect()
}

/// Cuts a picture into its pieces.
pub(crate) fn pieces(bytes: &[u8]) -> Vec<&[u8]> {
    bytes.chunks(usize::try_from(PIECE).unwrap()).collect()
}
