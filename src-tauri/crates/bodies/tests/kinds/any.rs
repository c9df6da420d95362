//! Bodies of any content that they may have, likely or not.

use bodies::{
    Amended, Amendment, Certificate, Certified, Change, ChangeMade, Confirmed, Decision, Epoch, FileHash,
    Grade, HeldRun, HubRole, Import, LastTrusted, Observation, Observed, PersonChange, PersonId, Photo,
    PhotoHash, Reading, Receipt, Review, Revocation, RowsChanged, SpkiHash, Table, Technician,
};
use domain::quantity::Decimal;
use domain::visit::Measured;
use proptest::collection::{btree_map, btree_set, vec};
use proptest::option;
use proptest::prelude::*;
use proptest::sample::select;
use record::{EntryId, LogId, PayloadHash, SecretKey, Seq, Signer};

/// Any text; often an empty one, which is left out of the body.
fn text() -> impl Strategy<Value = String> {
    prop_oneof![1 => Just(String::new()), 3 => "\\PC{0,30}"]
}

/// A text that is more than blanks.
fn said() -> impl Strategy<Value = String> {
    "\\PC{0,10}[a-zé]\\PC{0,10}"
}

fn hash() -> impl Strategy<Value = [u8; 32]> {
    any::<[u8; 32]>()
}

fn person() -> impl Strategy<Value = PersonId> {
    any::<[u8; 16]>().prop_map(PersonId)
}

fn epoch() -> impl Strategy<Value = Epoch> {
    any::<[u8; 16]>().prop_map(Epoch)
}

fn technician() -> impl Strategy<Value = Technician> {
    let confirmed = select(vec![Confirmed::Unlocked, Confirmed::Pin, Confirmed::None]);
    (person(), confirmed).prop_map(|(person, confirmed)| Technician { person, confirmed })
}

/// Any place, most of them low, some as high as there are.
fn seq() -> impl Strategy<Value = Seq> {
    prop_oneof![1u64..1000, Seq::LAST.get() - 3..=Seq::LAST.get()].prop_map(|at| Seq::new(at).unwrap())
}

fn subject() -> impl Strategy<Value = EntryId> {
    let parts = (hash(), seq(), hash());
    parts.prop_map(|(log, seq, payload)| EntryId { log: LogId(log), seq, payload: PayloadHash(payload) })
}

fn reading() -> impl Strategy<Value = Reading> {
    let mantissa = prop_oneof![any::<i64>(), -1_000_000i64..1_000_000];
    (text(), mantissa, any::<i8>(), text()).prop_map(|(text, mantissa, exponent, unit)| Reading {
        text,
        value: Measured { value: Decimal::trimmed(mantissa, exponent), unit },
    })
}

fn photo() -> impl Strategy<Value = Photo> {
    let length = prop_oneof![1u64..100_000_000, Just(i64::MAX.unsigned_abs())];
    let parts = (hash(), length, "[a-z]{1,10}/[a-z0-9+.-]{1,10}");
    parts.prop_map(|(hash, length, media_type)| Photo { hash: PhotoHash(hash), length, media_type })
}

prop_compose! {
    pub(crate) fn observation()(
        app in text(), tag in text(), made_for in text(), note in said(), technician in technician(),
        what in select(vec![Observed::Photo, Observed::Dip, Observed::Reading, Observed::Other]),
        photo in option::of(photo()), other in photo(), readings in vec(reading(), 0..5), one in reading(),
    ) -> Observation {
        let mut all = Observation { app, technician, tag, what, photo, readings, note, made_for };
        match what {
            Observed::Photo => all.photo = Some(other),
            Observed::Dip | Observed::Reading => all.readings.push(one),
            Observed::Other => {}
        }
        all
    }
}

prop_compose! {
    pub(crate) fn amendment()(
        app in text(), technician in technician(), subject in subject(), reason in said(),
        changes in vec((said(), text(), text()), 0..4),
    ) -> Amendment {
        let changes = changes.into_iter().map(|(what, from, to)| Amended { what, from, to }).collect();
        Amendment { app, technician, subject, reason, changes }
    }
}

prop_compose! {
    pub(crate) fn review()(
        subject in subject(), note in text(), person in person(),
        decision in select(vec![
            Decision::Approved, Decision::Returned, Decision::Adopted, Decision::Accepted, Decision::Declined,
        ]),
    ) -> Review {
        Review { subject, decision, note, person }
    }
}

prop_compose! {
    /// Runs by their ends, so that none stands twice; branches of a fork among them.
    fn runs()(runs in btree_map(hash(), (seq(), seq()), 0..6)) -> Vec<HeldRun> {
        let run = |(end, (one, other)): ([u8; 32], (Seq, Seq))| {
            HeldRun { from: one.min(other), to: one.max(other), end: PayloadHash(end) }
        };
        let mut runs: Vec<_> = runs.into_iter().map(run).collect();
        runs.sort();
        runs
    }
}

prop_compose! {
    pub(crate) fn receipt()(
        epoch in epoch(), log in hash(), runs in runs(), photos in btree_set(hash(), 0..6),
        grade in select(vec![Grade::Relayed, Grade::Stored, Grade::BackedUp]),
    ) -> Receipt {
        let epoch = (grade != Grade::Relayed).then_some(epoch);
        let photos = photos.into_iter().map(PhotoHash).collect();
        Receipt { epoch, log: LogId(log), runs, photos, grade }
    }
}

fn certified() -> impl Strategy<Value = Certified> {
    let hub = (vec(hash(), 0..3), epoch(), option::of(hash())).prop_map(|(tls, epoch, replaces)| {
        let tls = tls.into_iter().map(SpkiHash).collect();
        Certified::Hub { tls, epoch, replaces: replaces.map(LogId) }
    });
    let device =
        (person(), btree_set(said(), 0..4)).prop_map(|(person, areas)| Certified::Device { person, areas });
    prop_oneof![hub, device, Just(Certified::Organisation)]
}

prop_compose! {
    pub(crate) fn certificate()(mut secret in any::<[u8; 32]>(), label in text(), certified in certified()) -> Certificate {
        Certificate { key: SecretKey::take(&mut secret).public().clone(), label, certified }
    }
}

prop_compose! {
    pub(crate) fn revocation()(
        log in hash(), last in option::of((seq(), hash())), reason in said(), person in person(),
    ) -> Revocation {
        let last = last.map(|(seq, payload)| LastTrusted { seq, payload: PayloadHash(payload) });
        Revocation { log: LogId(log), last, reason, person }
    }
}

prop_compose! {
    fn import()(
        table in select(vec![Table::Instruments, Table::Sensors]), file in hash(),
        before in 0..u64::MAX, more in 0..u64::MAX, rows in any::<[u64; 4]>(),
    ) -> Import {
        let [added, changed, moved, removed] = rows;
        let rows = RowsChanged { added, changed, moved, removed };
        Import { table, file: FileHash(file), before, after: before.saturating_add(more).max(before + 1), rows }
    }
}

fn person_change() -> impl Strategy<Value = PersonChange> {
    let role = || select(vec![HubRole::Read, HubRole::Supervise, HubRole::Administer]);
    let added = (role(), any::<bool>()).prop_map(|(role, signs_in)| PersonChange::Added { role, signs_in });
    let bare =
        vec![PersonChange::Renamed, PersonChange::Erased, PersonChange::Password, PersonChange::NoSignIn];
    prop_oneof![added, role().prop_map(PersonChange::Role), select(bare)]
}

pub(crate) fn change() -> impl Strategy<Value = Change> {
    let person = (person(), person_change()).prop_map(|(person, change)| ChangeMade::Person(person, change));
    let confirmed = hash().prop_map(|phone| ChangeMade::PhoneConfirmed(LogId(phone)));
    let looked_through = Just(ChangeMade::PhonesLookedThrough);
    let made = prop_oneof![import().prop_map(ChangeMade::Imported), person, confirmed, looked_through];
    (option::of(self::person()), made).prop_map(|(by, made)| Change { by, made })
}
