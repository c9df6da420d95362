//! What the examples say, as it was before anything was encoded.

use std::collections::BTreeSet;

use bodies::{
    Amended, Amendment, Certificate, Certified, Change, ChangeMade, Confirmed, Decision, Epoch, FileHash,
    Grade, HeldRun, HubRole, Import, LastTrusted, Observation, Observed, PersonChange, PersonId, Photo,
    PhotoHash, Reading, Receipt, Review, Revocation, RowsChanged, SpkiHash, Table, Technician, Visit,
};
use domain::quantity::Decimal;
use domain::visit::{Elevation, Finished, Measured};
use record::{EntryId, LogId, PayloadHash, PublicKey, SecretKey, Seq, Signer};

use super::frozen;

const PERSON: PersonId = PersonId(*b"invented person!");
const SUPERVISOR: PersonId = PersonId(*b"other invention!");
const EPOCH: Epoch = Epoch(*b"epoch of example");

/// Thirty-two bytes that go up by a step from nought, modulo 256.
fn hash(step: usize) -> [u8; 32] {
    std::array::from_fn(|at| u8::try_from(at * step % 256).expect("below 256"))
}

/// The public key of the secret key whose bytes go up by one from this.
fn public(first: u8) -> PublicKey {
    let mut secret = std::array::from_fn(|at| first + u8::try_from(at).expect("32 is below 256"));
    SecretKey::take(&mut secret).public().clone()
}

fn technician(confirmed: Confirmed) -> Technician {
    Technician { person: PERSON, confirmed }
}

fn subject(seq: u64) -> EntryId {
    EntryId { log: LogId(hash(3)), seq: Seq::new(seq).unwrap(), payload: PayloadHash(hash(5)) }
}

fn reading(text: &str, mantissa: i64, exponent: i8, unit: &str) -> Reading {
    let value = Measured { value: Decimal { mantissa, exponent }, unit: unit.into() };
    Reading { text: text.into(), value }
}

pub(crate) fn observations() -> Vec<Observation> {
    let dip = Observation {
        app: "0.2.0".into(),
        technician: technician(Confirmed::Unlocked),
        tag: "LT-2041".into(),
        what: Observed::Dip,
        photo: Some(Photo { hash: PhotoHash(hash(9)), length: 2_417_993, media_type: "image/jpeg".into() }),
        // 12 ft 1 1/4 in is 145.25 x 25.4 mm, and 12 ft 1 in is 145 x 25.4 mm.
        readings: vec![
            reading("12' 1 1/4\"", 368_935, -5, "m"),
            reading("12' 1\"", 3683, -3, "m"),
            reading("-3 m", -3, 0, "m"),
        ],
        note: "Tape wet above the mark; Größe 300 mm.\nSecond person at the hatch.".into(),
        made_for: "0199-7d2c".into(),
    };
    let photo = Observation {
        app: String::new(),
        technician: technician(Confirmed::None),
        tag: String::new(),
        what: Observed::Photo,
        photo: Some(Photo { hash: PhotoHash(hash(11)), length: 1, media_type: "image/png".into() }),
        readings: vec![],
        note: String::new(),
        made_for: String::new(),
    };
    let display = Observation {
        what: Observed::Reading,
        tag: "LT-3107".into(),
        photo: None,
        readings: vec![reading("0", 0, 0, "psi"), reading("14.2 psi", 142, -1, "psi")],
        ..photo.clone()
    };
    let other = Observation {
        what: Observed::Other,
        photo: None,
        note: "The overflow at Cold Ash is running.".into(),
        ..photo.clone()
    };
    vec![dip, photo, display, other]
}

pub(crate) fn amendments() -> Vec<Amendment> {
    let changed =
        |what: &str, from: &str, to: &str| Amended { what: what.into(), from: from.into(), to: to.into() };
    let typed_wrong = Amendment {
        app: "0.2.0".into(),
        technician: technician(Confirmed::Pin),
        subject: subject(17),
        reason: "The second dip was typed with its digits exchanged.".into(),
        changes: vec![changed("Dip 2", "3.86 m", "3.68 m"), changed("Note", "", "read again on paper")],
    };
    let not_this_one = Amendment {
        app: String::new(),
        technician: technician(Confirmed::None),
        subject: subject(1),
        reason: "Made on the tank next to it.".into(),
        changes: vec![],
    };
    vec![typed_wrong, not_this_one]
}

pub(crate) fn reviews() -> Vec<Review> {
    let review = |seq, decision, note: &str| Review {
        subject: subject(seq),
        decision,
        note: note.into(),
        person: SUPERVISOR,
    };
    vec![
        review(17, Decision::Approved, ""),
        review(18, Decision::Returned, "Dip once more: the two before do not agree."),
        review(40, Decision::Adopted, "Made before the phone was lost."),
        review(41, Decision::Accepted, ""),
        review(1 << 40, Decision::Declined, "The label belongs to LT-3108."),
    ]
}

pub(crate) fn receipts() -> Vec<Receipt> {
    let run = |from, to, step| HeldRun {
        from: Seq::new(from).unwrap(),
        to: Seq::new(to).unwrap(),
        end: PayloadHash(hash(step)),
    };
    let relayed = Receipt {
        epoch: None,
        log: LogId(hash(3)),
        runs: vec![run(1, 17, 5)],
        photos: BTreeSet::new(),
        grade: Grade::Relayed,
    };
    let stored = Receipt { epoch: Some(EPOCH), runs: vec![], grade: Grade::Stored, ..relayed.clone() };
    let backed_up = Receipt {
        // Places 18 and 19 are missing; from 30 on there are two branches.
        runs: vec![run(1, 17, 5), run(20, 300, 7), run(30, 31, 13)],
        photos: BTreeSet::from([PhotoHash(hash(9)), PhotoHash(hash(11))]),
        grade: Grade::BackedUp,
        ..stored.clone()
    };
    vec![relayed, stored, backed_up]
}

pub(crate) fn certificates() -> Vec<Certificate> {
    let first = Certified::Hub { tls: vec![SpkiHash(hash(15))], epoch: EPOCH, replaces: None };
    let later = Certified::Hub {
        tls: vec![SpkiHash(hash(17)), SpkiHash(hash(15))],
        epoch: Epoch(*b"the epoch after!"),
        replaces: Some(public(0x21).log()),
    };
    let areas = BTreeSet::from(["Sedge Hill".to_owned(), "Cold Ash".to_owned(), "Ost-Größe".to_owned()]);
    let of =
        |first, label: &str, certified| Certificate { key: public(first), label: label.into(), certified };
    vec![
        of(0x21, "Marrowby District Water", first),
        of(0x41, "Marrowby District Water", later),
        of(0x61, "Phone of van 4", Certified::Device { person: PERSON, areas }),
        of(0x81, "", Certified::Device { person: SUPERVISOR, areas: BTreeSet::new() }),
        of(0xa1, "", Certified::Organisation),
    ]
}

pub(crate) fn revocations() -> Vec<Revocation> {
    let last = LastTrusted { seq: Seq::new(17).unwrap(), payload: PayloadHash(hash(5)) };
    let lost = Revocation {
        log: LogId(hash(3)),
        last: Some(last),
        reason: "Left in a van that was broken into at Tarn Lane.".into(),
        person: SUPERVISOR,
    };
    let never = Revocation { last: None, reason: "Never one of ours.".into(), ..lost.clone() };
    vec![lost, never]
}

pub(crate) fn changes() -> Vec<Change> {
    let (file, rows) = (FileHash(hash(21)), RowsChanged { added: 412, changed: 23, moved: 2, removed: 7 });
    let instruments = Import { table: Table::Instruments, file, before: 0, after: 446, rows };
    let rows = RowsChanged { added: 0, changed: 3, moved: 0, removed: 1 };
    let sensors = Import { table: Table::Sensors, before: 1, after: 2, rows, ..instruments };
    let person = |change| ChangeMade::Person(PERSON, change);
    let by = |by, made| Change { by, made };
    vec![
        by(None, person(PersonChange::Added { role: HubRole::Administer, signs_in: true })),
        by(None, person(PersonChange::Added { role: HubRole::Read, signs_in: false })),
        by(None, ChangeMade::Imported(instruments)),
        by(Some(SUPERVISOR), ChangeMade::Imported(sensors)),
        by(Some(SUPERVISOR), person(PersonChange::Renamed)),
        by(Some(SUPERVISOR), person(PersonChange::Role(HubRole::Supervise))),
        by(Some(PERSON), person(PersonChange::Password)),
        by(Some(SUPERVISOR), person(PersonChange::NoSignIn)),
        by(Some(SUPERVISOR), person(PersonChange::Erased)),
    ]
}

pub(crate) fn changes_of_phones() -> Vec<Change> {
    let confirmed = |phone: usize| ChangeMade::PhoneConfirmed(LogId(hash(phone)));
    let (looked_through, by) = (ChangeMade::PhonesLookedThrough, |by, made| Change { by, made });
    let added = PersonChange::Added { role: HubRole::Supervise, signs_in: true };
    let (file, rows) = (FileHash(hash(21)), RowsChanged { added: 1, changed: 2, moved: 11, removed: 0 });
    let import = Import { table: Table::Instruments, file, before: 446, after: 470, rows };
    vec![
        by(None, confirmed(3)),
        by(Some(SUPERVISOR), confirmed(13)),
        by(None, looked_through),
        by(Some(SUPERVISOR), looked_through),
        by(Some(SUPERVISOR), ChangeMade::Person(PERSON, added)),
        by(Some(SUPERVISOR), ChangeMade::Imported(import)),
    ]
}

/// The visit of `wire/v2`, resting on two observations.
pub(crate) fn visit() -> Visit {
    let finished: Finished = serde_json::from_slice(&frozen("v2/visit.json")).unwrap();
    let cited = vec![PayloadHash(hash(19)), PayloadHash(hash(5))];
    Visit { technician: technician(Confirmed::Pin), app: "0.2.0".into(), finished, cited }
}

/// The visit of `wire/v2`, at a site that has names for two other heights.
pub(crate) fn with_elevations() -> Visit {
    let mut visit = Visit { cited: Vec::new(), ..visit() };
    visit.finished.instrument.elevations = vec![
        Elevation { name: "manhole flange".into(), height: "7.42 m".into() },
        Elevation { name: "ground".into(), height: "-3.1 m".into() },
    ];
    visit
}
