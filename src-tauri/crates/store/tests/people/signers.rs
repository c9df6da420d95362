//! Who signs in these tests, and a store on a real file. Entries are real ones.

use bodies::{
    Certificate, Certified, Epoch, Grade, HeldRun, Observation, Observed, PersonId, Photo, PhotoHash,
    Receipt, Technician, Visit,
};
use exchange::intake::Arrived;
use exchange::session::{Ledger, Taken};
use record::{Claimed, Kind, Link, NewEntry, Sealed, SecretKey, Signer};
use store::{Hub, Identity, LogId, Opening, Place, Seq, Store};
use tempfile::TempDir;

/// The hub's epoch at first.
pub(crate) const EPOCH: Epoch = Epoch([0xe1; 16]);

/// Somebody with a key, and the log that it signs.
pub(crate) struct Writer {
    pub(crate) key: SecretKey,
    pub(crate) link: Link,
}

impl Writer {
    pub(crate) fn of(secret: u8) -> Writer {
        Writer { key: SecretKey::take(&mut [secret; 32]), link: Link::First }
    }

    pub(crate) fn log(&self) -> LogId {
        LogId::of(self.key.public().log())
    }

    /// Signs the next entry.
    pub(crate) fn entry(&mut self, kind: Kind, version: u32, body: &[u8]) -> Sealed {
        let sealed = self.beside(kind, version, body);
        self.link = sealed.next();
        sealed
    }

    /// Signs an entry at the next place and leaves the place free: the next one will be a fork.
    pub(crate) fn beside(&self, kind: Kind, version: u32, body: &[u8]) -> Sealed {
        let claimed = Claimed { millis: 1_772_000_000_000, offset_minutes: 0 };
        let new = NewEntry { link: self.link, kind, body_version: version, claimed, boot: None };
        record::seal(&new, body, &self.key).unwrap()
    }

    /// Signs something of a kind that nobody here knows.
    pub(crate) fn something(&mut self, number: u8) -> Sealed {
        self.entry(Kind(4_000_000_000), 1, &[0x18, 0x80 | number])
    }

    /// Signs an observation of a photo.
    pub(crate) fn photo(&mut self, photo: &[u8], made_for: &str) -> Sealed {
        self.photo_of(photo, photo.len() as u64, made_for)
    }

    /// Signs an observation of a photo that says this length of it.
    pub(crate) fn photo_of(&mut self, photo: &[u8], length: u64, made_for: &str) -> Sealed {
        let observation = Observation {
            app: "test".into(),
            technician: technician(),
            tag: "LT-201".into(),
            what: Observed::Photo,
            photo: Some(Photo { hash: store::photo_hash(photo), length, media_type: "image/jpeg".into() }),
            readings: Vec::new(),
            note: String::new(),
            made_for: made_for.into(),
        };
        self.entry(bodies::OBSERVATION, bodies::OBSERVATION_VERSION, &observation.encode().unwrap())
    }

    /// Signs a visit that names these observations.
    pub(crate) fn visit(&mut self, cited: &[&Sealed]) -> Sealed {
        let example = include_bytes!("../../../../../tests/suite/wire/v2/visit.headmark");
        let export = record::read_export(example).unwrap();
        let visit = Visit::of_entry(&export.entries[0]).unwrap();
        let visit = Visit { cited: cited.iter().map(|cited| cited.id.payload).collect(), ..visit };
        self.entry(bodies::VISIT, bodies::VISIT_VERSION, &visit.encode().unwrap())
    }

    pub(crate) fn certify(&mut self, whom: &Writer, certified: Certified) -> Sealed {
        let certificate = Certificate { key: whom.key.public().clone(), label: "invented".into(), certified };
        self.entry(bodies::CERTIFICATE, bodies::CERTIFICATE_VERSION, &certificate.encode().unwrap())
    }

    /// Signs a receipt that names photos and nothing else.
    pub(crate) fn receipt_of_photos(
        &mut self,
        epoch: Epoch,
        log: LogId,
        photos: &[PhotoHash],
        grade: Grade,
    ) -> Sealed {
        let photos = photos.iter().copied().collect();
        let receipt = Receipt { epoch: Some(epoch), log: log.of_record(), runs: Vec::new(), photos, grade };
        self.entry(bodies::RECEIPT, bodies::RECEIPT_VERSION, &receipt.encode().unwrap())
    }

    /// Signs a receipt for runs given by their entries, first and last.
    pub(crate) fn receipt(
        &mut self,
        epoch: Option<Epoch>,
        runs: &[(&Sealed, &Sealed)],
        photos: &[PhotoHash],
        grade: Grade,
    ) -> Sealed {
        let run = |(first, last): &(&Sealed, &Sealed)| HeldRun {
            from: first.id.seq,
            to: last.id.seq,
            end: last.id.payload,
        };
        let receipt = Receipt {
            epoch,
            log: runs[0].0.id.log,
            runs: runs.iter().map(run).collect(),
            photos: photos.iter().copied().collect(),
            grade,
        };
        self.entry(bodies::RECEIPT, bodies::RECEIPT_VERSION, &receipt.encode().unwrap())
    }
}

fn technician() -> Technician {
    Technician { person: PersonId([5; 16]), confirmed: bodies::Confirmed::None }
}

/// What certifies a hub in an epoch.
pub(crate) fn as_hub(epoch: Epoch, replaces: Option<&Writer>) -> Certified {
    let replaces = replaces.map(|before| before.log().of_record());
    Certified::Hub { tls: vec![bodies::SpkiHash([9; 32])], epoch, replaces }
}

/// What certifies a phone.
pub(crate) fn as_device() -> Certified {
    Certified::Device { person: PersonId([6; 16]), areas: [].into() }
}

/// An entry as the store keeps it.
pub(crate) fn kept(sealed: &Sealed) -> store::NewEntry {
    store::NewEntry {
        place: place(sealed),
        hash: store::PayloadHash::of(sealed.id.payload),
        previous: sealed.header.previous.map(store::PayloadHash::of),
        kind: store::Kind(u64::from(sealed.header.kind.0)),
        bytes: sealed.bytes.clone(),
    }
}

pub(crate) fn place(sealed: &Sealed) -> Place {
    Place { log: LogId::of(sealed.id.log), seq: Seq::of(sealed.id.seq) }
}

/// An entry as an exchange hands it over.
pub(crate) fn arrived(sealed: &Sealed) -> Arrived {
    Arrived::of(&record::open(&sealed.bytes).unwrap())
}

/// A phone that belongs to a hub.
pub(crate) struct Phone {
    pub(crate) folder: TempDir,
    pub(crate) store: Store,
    pub(crate) own: Writer,
    pub(crate) organisation: Writer,
    pub(crate) hub: Writer,
}

impl Phone {
    pub(crate) fn new() -> Phone {
        let folder = tempfile::tempdir().unwrap();
        let store = Opening::at(folder.path().join("headmark.db")).open().unwrap();
        let (own, mut organisation, hub) = (Writer::of(1), Writer::of(2), Writer::of(3));
        store.keep_keys(&[own.key.public().clone()]).unwrap();
        store.add_identity(&Identity { log: own.log(), sealed_key: vec![7; 48] }).unwrap();
        let joined = Hub { organisation: organisation.log(), addresses: vec![], pins: vec![] };
        store.join(&joined).unwrap();
        let certificate = organisation.certify(&hub, as_hub(EPOCH, None));
        let phone = Phone { folder, store, own, organisation, hub };
        phone.take(EPOCH, &[&certificate]);
        phone
    }

    /// Takes an answer of the hub with these entries; returns how many were new.
    pub(crate) fn take(&self, epoch: Epoch, entries: &[&Sealed]) -> u32 {
        let taken = Taken {
            epoch,
            keys: [&self.organisation, &self.hub].map(|writer| writer.key.public().clone()).to_vec(),
            entries: entries.iter().map(|sealed| arrived(sealed)).collect(),
            pages: vec![],
            news: None,
            given_back: false,
        };
        Ledger::take(&self.store, &taken).unwrap().entries
    }

    /// Appends an entry that this phone signed.
    pub(crate) fn append(&self, sealed: &Sealed) {
        self.store.append(&kept(sealed)).unwrap();
    }
}
