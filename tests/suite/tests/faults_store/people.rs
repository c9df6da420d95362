//! Who signs in the story: this phone, another one, the organisation and its hub. Their entries are real ones.

use std::sync::LazyLock;

use bodies::{
    Certificate, Certified, Epoch, Grade, HeldRun, Observation, Observed, Photo, PhotoHash, Receipt,
};
use exchange::intake::Arrived;
use record::{Claimed, Kind, Link, NewEntry, Sealed, SecretKey, Signer};
use store::LogId;

/// The epoch of the hub.
pub(crate) const EPOCH: Epoch = Epoch([0xe1; 16]);

/// A log under way.
pub(crate) struct Writer {
    pub(crate) key: SecretKey,
    link: Link,
}

impl Writer {
    fn of(secret: u8) -> Writer {
        Writer { key: SecretKey::take(&mut [secret; 32]), link: Link::First }
    }

    pub(crate) fn log(&self) -> LogId {
        LogId::of(self.key.public().log())
    }

    /// Signs the next entry.
    fn entry(&mut self, kind: Kind, version: u32, body: &[u8]) -> Sealed {
        let claimed = Claimed { millis: 1_772_000_000_000, offset_minutes: 0 };
        let new = NewEntry { link: self.link, kind, body_version: version, claimed, boot: None };
        let sealed = record::seal(&new, body, &self.key).unwrap();
        self.link = sealed.next();
        sealed
    }
}

/// Everything that is signed in the story.
pub(crate) struct Signed {
    pub(crate) own: Writer,
    pub(crate) own_entries: Vec<Sealed>,
    /// Three of a kind that nobody here knows, and another one at the place of the second.
    pub(crate) other_entries: Vec<Sealed>,
    pub(crate) organisation: Writer,
    pub(crate) hub: Writer,
    /// That the hub is one, and that the other phone is.
    pub(crate) certificates: Vec<Sealed>,
    /// For this phone's first two entries, then for four: stored, stored, backed up.
    pub(crate) receipts: Vec<Sealed>,
    pub(crate) photo: Vec<u8>,
    /// The other phone's, of two pieces, and the entry that names it.
    pub(crate) long_photo: Vec<u8>,
    pub(crate) other_photo: Sealed,
    /// The fifth of this phone's entries: it names the photo.
    pub(crate) observation: Sealed,
}

/// Signed once: it takes a while.
pub(crate) static SIGNED: LazyLock<Signed> = LazyLock::new(|| {
    let (mut own, mut other, mut organisation, mut hub) =
        (Writer::of(1), Writer::of(2), Writer::of(3), Writer::of(4));
    let own_entries: Vec<Sealed> =
        (1..=4).map(|visit| own.entry(Kind(1), 7, &filling(visit, 1_500))).collect();
    let first = other.entry(Kind(77), 1, &filling(1, 600));
    let mut other_entries = vec![first.clone()];
    other_entries.extend((2..=3).map(|number| other.entry(Kind(77), 1, &filling(number, 600))));
    // What two phones with one key would do.
    let behind = other.link;
    other.link = first.next();
    other_entries.push(other.entry(Kind(77), 1, &filling(4, 600)));
    other.link = behind;
    let long_photo: Vec<u8> =
        (0..280_000u32).map(|at| (at.wrapping_mul(2_246_822_519) >> 24) as u8).collect();
    let other_photo = other.entry(bodies::OBSERVATION, bodies::OBSERVATION_VERSION, &observed(&long_photo));
    let photo: Vec<u8> = (0..9_000u32).map(|at| (at.wrapping_mul(2_654_435_761) >> 24) as u8).collect();
    let observation = own.entry(bodies::OBSERVATION, bodies::OBSERVATION_VERSION, &observed(&photo));
    let certificates = vec![
        certify(
            &mut organisation,
            &hub,
            Certified::Hub { tls: vec![bodies::SpkiHash([9; 32])], epoch: EPOCH, replaces: None },
        ),
        certify(&mut hub, &other, Certified::Device { person: bodies::PersonId([5; 16]), areas: [].into() }),
    ];
    let receipts = [(2, Grade::Stored), (4, Grade::Stored), (4, Grade::BackedUp)]
        .map(|(until, grade)| receipt(&mut hub, &own_entries[..until], &photo, grade))
        .to_vec();
    Signed {
        own,
        own_entries,
        other_entries,
        organisation,
        hub,
        certificates,
        receipts,
        photo,
        long_photo,
        other_photo,
        observation,
    }
});

/// A body that no version reads, of about this length: one byte string.
fn filling(number: u8, length: u16) -> Vec<u8> {
    let mut body = vec![0x59];
    body.extend(length.to_be_bytes());
    body.extend((0..u32::from(length)).map(|at| (at.wrapping_mul(31) ^ u32::from(number)) as u8));
    body
}

fn observed(photo: &[u8]) -> Vec<u8> {
    let technician =
        bodies::Technician { person: bodies::PersonId([5; 16]), confirmed: bodies::Confirmed::None };
    let photo = Photo { hash: hash(photo), length: photo.len() as u64, media_type: "image/jpeg".into() };
    let observation = Observation {
        app: "test".into(),
        technician,
        tag: "LT-201".into(),
        what: Observed::Photo,
        photo: Some(photo),
        readings: Vec::new(),
        note: String::new(),
        made_for: "visit-9".into(),
    };
    observation.encode().unwrap()
}

/// The name of a photo.
pub(crate) fn hash(photo: &[u8]) -> PhotoHash {
    store::photo_hash(photo)
}

fn certify(by: &mut Writer, whom: &Writer, certified: Certified) -> Sealed {
    let certificate = Certificate { key: whom.key.public().clone(), label: "invented".into(), certified };
    by.entry(bodies::CERTIFICATE, bodies::CERTIFICATE_VERSION, &certificate.encode().unwrap())
}

fn receipt(hub: &mut Writer, of: &[Sealed], photo: &[u8], grade: Grade) -> Sealed {
    let last = of.last().unwrap();
    let receipt = Receipt {
        epoch: Some(EPOCH),
        log: last.id.log,
        runs: vec![HeldRun { from: of[0].id.seq, to: last.id.seq, end: last.id.payload }],
        photos: [hash(photo)].into(),
        grade,
    };
    hub.entry(bodies::RECEIPT, bodies::RECEIPT_VERSION, &receipt.encode().unwrap())
}

/// An entry as an exchange hands it over.
pub(crate) fn arrived(sealed: &Sealed) -> Arrived {
    Arrived::of(&record::open(&sealed.bytes).unwrap())
}

/// An entry as the store keeps it.
pub(crate) fn kept(sealed: &Sealed) -> store::NewEntry {
    store::NewEntry {
        place: store::Place { log: LogId::of(sealed.id.log), seq: store::Seq::of(sealed.id.seq) },
        hash: store::PayloadHash::of(sealed.id.payload),
        previous: sealed.header.previous.map(store::PayloadHash::of),
        kind: store::Kind(u64::from(sealed.header.kind.0)),
        bytes: sealed.bytes.clone(),
    }
}
