//! One of each kind, with something in every field.

use std::collections::BTreeSet;

use bodies::{
    Amended, Amendment, Certificate, Certified, Change, ChangeMade, Confirmed, Decision, Epoch, FileHash,
    Grade, HeldRun, HubRole, Import, LastTrusted, Observation, Observed, PersonChange, PersonId, Photo,
    PhotoHash, Reading, Receipt, Review, Revocation, RowsChanged, SpkiHash, Table, Technician,
};
use domain::quantity::Decimal;
use domain::visit::Measured;
use record::{EntryId, LogId, PayloadHash, PublicKey, SecretKey, Seq, Signer};

pub(crate) const PERSON: PersonId = PersonId(*b"invented person!");

pub(crate) fn technician() -> Technician {
    Technician { person: PERSON, confirmed: Confirmed::Pin }
}

pub(crate) fn subject() -> EntryId {
    EntryId { log: LogId([0xaa; 32]), seq: Seq::new(300).unwrap(), payload: PayloadHash([0xbb; 32]) }
}

pub(crate) fn key() -> PublicKey {
    SecretKey::take(&mut [0xa5; 32]).public().clone()
}

pub(crate) fn observation() -> Observation {
    let value = Measured { value: Decimal { mantissa: 1525, exponent: -3 }, unit: "m".into() };
    Observation {
        app: "0.2.0".into(),
        technician: technician(),
        tag: "LT-2041".into(),
        what: Observed::Dip,
        photo: Some(Photo { hash: PhotoHash([0xcc; 32]), length: 70_000, media_type: "image/jpeg".into() }),
        readings: vec![Reading { text: "1.525 m".into(), value }],
        note: "ripples".into(),
        made_for: "v7".into(),
    }
}

pub(crate) fn amendment() -> Amendment {
    let change = Amended { what: "Dip 1".into(), from: "1.52 m".into(), to: "1.25 m".into() };
    Amendment {
        app: "0.2.0".into(),
        technician: technician(),
        subject: subject(),
        reason: "typed wrong".into(),
        changes: vec![change],
    }
}

pub(crate) fn review() -> Review {
    Review { subject: subject(), decision: Decision::Returned, note: "dip again".into(), person: PERSON }
}

pub(crate) fn run(from: u64, to: u64, end: u8) -> HeldRun {
    HeldRun { from: Seq::new(from).unwrap(), to: Seq::new(to).unwrap(), end: PayloadHash([end; 32]) }
}

pub(crate) fn receipt() -> Receipt {
    Receipt {
        epoch: Some(Epoch([0x0e; 16])),
        log: LogId([0xaa; 32]),
        runs: vec![run(1, 30, 0xb1), run(32, 40, 0xb2)],
        photos: BTreeSet::from([PhotoHash([0xcd; 32]), PhotoHash([0xcc; 32])]),
        grade: Grade::BackedUp,
    }
}

/// The kind that has the most in it.
pub(crate) fn certificate() -> Certificate {
    hub()
}

pub(crate) fn hub() -> Certificate {
    let tls = vec![SpkiHash([0x51; 32]), SpkiHash([0x50; 32])];
    let certified = Certified::Hub { tls, epoch: Epoch([0x0e; 16]), replaces: Some(LogId([0xaa; 32])) };
    Certificate { key: key(), label: "Marrowby".into(), certified }
}

pub(crate) fn device() -> Certificate {
    let areas = BTreeSet::from(["west".to_owned(), "north".to_owned()]);
    let certified = Certified::Device { person: PERSON, areas };
    Certificate { key: key(), label: "van 4".into(), certified }
}

pub(crate) fn organisation() -> Certificate {
    Certificate { key: key(), label: "Marrowby".into(), certified: Certified::Organisation }
}

pub(crate) fn revocation() -> Revocation {
    let last = LastTrusted { seq: Seq::new(300).unwrap(), payload: PayloadHash([0xbb; 32]) };
    Revocation { log: LogId([0xaa; 32]), last: Some(last), reason: "lost".into(), person: PERSON }
}

/// The kind that has the most in it.
pub(crate) fn change() -> Change {
    let import = Import {
        table: Table::Instruments,
        file: FileHash([0xf1; 32]),
        before: 40,
        after: 300,
        rows: RowsChanged { added: 200, changed: 20, moved: 15, removed: 10 },
    };
    Change { by: Some(PERSON), made: ChangeMade::Imported(import) }
}

pub(crate) fn changed(change: PersonChange) -> Change {
    Change { by: None, made: ChangeMade::Person(PERSON, change) }
}

pub(crate) fn added() -> Change {
    changed(PersonChange::Added { role: HubRole::Supervise, signs_in: true })
}

pub(crate) fn of_phones(made: ChangeMade) -> Change {
    Change { by: Some(PERSON), made }
}

pub(crate) fn phone_confirmed() -> Change {
    of_phones(ChangeMade::PhoneConfirmed(LogId([0xaa; 32])))
}
