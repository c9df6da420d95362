//! The hub of the simulation: the real one over whatever store, with the organisation's key beside it.

use std::collections::{BTreeMap, BTreeSet};

use bodies::{
    CERTIFICATE, CERTIFICATE_VERSION, Certificate, Certified, Decision, Epoch, FileHash, Grade, LastTrusted,
    PersonId, REVIEW, REVIEW_VERSION, REVOCATION, REVOCATION_VERSION, Review, Revocation,
};
use exchange::message;
use exchange::session::Route;
use hub::changing::import;
use hub::clock::{Clock, Moment};
use hub::exchange::{hello, push, receipts_of};
use hub::home::{self, Hub};
use hub::saying::Say;
use hub::trusted::chain_to;
use hubstore::{
    Batch, Filter, Identity, Ledger, Logs, Meta, NewEntry, NewLog, Reading, Row, Rows, StoredEntry,
};
use record::{Claimed, EntryId, Link, LogId, PublicKey, Signer, seal};

use crate::chance::Chance;
use crate::cheap::Signing;
use crate::house::House;
use crate::phone::{Confirmed, Phone};

type TheHub<S, H> = Hub<<H as House>::Store, <S as Signing>::Key, <S as Signing>::Proof>;

/// The hub, its clock, and the organisation.
pub struct HubSide<S: Signing, H: House> {
    /// None only while it is started again. Before its house, which has to be there while it ends.
    up: Option<TheHub<S, H>>,
    house: H,
    organisation: S::Key,
    organisation_tip: Link,
    backup: Option<(H::Store, H)>,
}

impl<S: Signing, H: House> HubSide<S, H> {
    pub async fn found(chance: &mut Chance) -> HubSide<S, H> {
        let organisation = S::key(chance.bytes());
        let house = H::new();
        let store = house.open().await.unwrap();
        let (hub, tip) = begin::<S, H>(store, &organisation, Link::First, None, chance).await;
        HubSide { up: Some(hub), house, organisation, organisation_tip: tip, backup: None }
    }

    pub fn hub(&self) -> &TheHub<S, H> {
        self.up.as_ref().unwrap()
    }

    pub fn store(&self) -> &H::Store {
        &self.hub().store
    }

    pub fn house(&self) -> &H {
        &self.house
    }

    pub fn organisation_key(&self) -> PublicKey {
        self.organisation.public().clone()
    }

    pub fn epoch(&self) -> Epoch {
        self.hub().identity.epoch
    }

    /// Answers a question, as the server does.
    pub async fn answer(&self, route: Route, body: &[u8], chance: &mut Chance) -> Option<Vec<u8>> {
        let session = chance.bytes();
        match route {
            Route::Hello => {
                let welcome = hello(self.hub(), &message::read(body).ok()?, session).await.ok()?;
                Some(message::write(&welcome).unwrap())
            }
            Route::Push => {
                let (answer, _) = push(self.hub(), body, session).await.ok()?;
                Some(message::write(&answer).unwrap())
            }
        }
    }

    /// Stops the process and starts it again on what was durable.
    pub async fn restart(&mut self, chance: &mut Chance) {
        let (key, clock) = (self.hub().signing.key.clone(), self.hub().clock.clone());
        self.house.ends(chance);
        self.up = None;
        self.house.ended(chance);
        let signing = || home::Signing { key: key.clone(), proof: S::proof() };
        if self.house.stops_opening(chance) {
            if let Ok(store) = self.house.open().await {
                drop(Hub::open(store, signing(), clock.clone()).await);
            }
            self.house.ended(chance);
        }
        let store = self.house.open().await.unwrap();
        self.up = Some(Hub::open(store, signing(), clock).await.unwrap());
    }

    /// Makes a backup and says so to the phones it holds.
    pub async fn back_up(&mut self) {
        let (house, copy) = H::copy_of(self.store()).await;
        let trusted = self.hub().trusted().await.unwrap();
        let devices: BTreeSet<LogId> = trusted.trust().devices().map(|(log, _)| log).collect();
        drop(trusted);
        receipts_of(self.hub(), &copy, &devices, Grade::BackedUp).await.unwrap();
        self.backup = Some((copy, house));
    }

    /// Begins a new life on the last backup.
    pub async fn restore(&mut self, chance: &mut Chance) -> bool {
        let Some((backup, _)) = &self.backup else { return false };
        let (house, store) = H::copy_of(backup).await;
        let replaces = Some(self.hub().identity.log);
        let (hub, tip) =
            begin::<S, H>(store, &self.organisation, self.organisation_tip, replaces, chance).await;
        self.organisation_tip = tip;
        self.up = Some(hub);
        self.house = house;
        true
    }

    /// What a phone is given when it is enrolled, once it is certified.
    pub async fn confirmed(&self, log: LogId) -> Confirmed {
        let (keys, entries) = chain_to(self.hub(), log).await.unwrap();
        Confirmed {
            organisation: self.organisation.public().log(),
            hub: self.hub().identity.log,
            keys,
            entries,
        }
    }

    pub async fn certify(&self, key: &PublicKey) {
        let areas = BTreeSet::new();
        let certified = Certified::Device { person: PersonId([1; 16]), areas };
        let certificate = Certificate { key: key.clone(), label: "phone".into(), certified };
        let body = certificate.encode().unwrap();
        self.hub().say(&[Say { kind: CERTIFICATE, version: CERTIFICATE_VERSION, body }]).await.unwrap();
        let known = vec![NewLog { log: key.log(), key: key.cose().to_vec() }];
        self.store().ingest(Batch { known, ..Batch::default() }).await.unwrap();
    }

    /// Revokes one of its phones; says whether it is one.
    pub async fn revoke(&self, log: LogId, last: Option<LastTrusted>) -> bool {
        if self.hub().trusted().await.unwrap().trust().device(log).is_none() {
            return false;
        }
        let body =
            Revocation { log, last, reason: "lost".into(), person: PersonId([2; 16]) }.encode().unwrap();
        self.hub().say(&[Say { kind: REVOCATION, version: REVOCATION_VERSION, body }]).await.unwrap();
        true
    }

    pub async fn adopt(&self, subject: EntryId) {
        let review =
            Review { subject, decision: Decision::Adopted, note: String::new(), person: PersonId([2; 16]) };
        let body = review.encode().unwrap();
        self.hub().say(&[Say { kind: REVIEW, version: REVIEW_VERSION, body }]).await.unwrap();
    }

    pub async fn change_register<P: Phone>(&self, chance: &mut Chance) {
        let row = |chance: &mut Chance| {
            let (tag, area) = (format!("LT-{}", chance.below(6)), ["hills", "valley"][chance.below(2)]);
            Row { bytes: P::row(&tag, area, chance), tag, area: area.into() }
        };
        let rows = match chance.below(3) {
            0 => Rows::Remove(vec![format!("LT-{}", chance.below(6))]),
            _ => Rows::Some((0..3).map(|_| row(chance)).collect()),
        };
        import(self.hub(), None, FileHash([3; 32]), (rows, Vec::new())).await.unwrap();
    }

    /// How many entries wait parked, by log.
    pub async fn parked(&self) -> BTreeMap<LogId, u64> {
        let parked = self.store().parked().await.unwrap();
        parked.into_iter().map(|parked| (parked.log, parked.entries)).collect()
    }

    /// All entries that are held, parked ones aside.
    pub async fn entries(&self) -> Vec<StoredEntry> {
        let (mut all, mut reading) = (Vec::new(), Reading::all(Filter::default()));
        while let Some(entries) = reading.next(self.store()).await.unwrap() {
            all.extend(entries);
        }
        all
    }
}

/// Begins a hub's life: a new key, a new epoch, the organisation's certificate for them.
async fn begin<S: Signing, H: House>(
    store: H::Store,
    organisation: &S::Key,
    link: Link,
    replaces: Option<LogId>,
    chance: &mut Chance,
) -> (TheHub<S, H>, Link) {
    let key = S::key(chance.bytes());
    let epoch = Epoch(chance.bytes());
    let certified = Certified::Hub { tls: vec![bodies::SpkiHash([9; 32])], epoch, replaces };
    let certificate = Certificate { key: key.public().clone(), label: "hub".into(), certified };
    let claimed = Claimed { millis: 0, offset_minutes: 0 };
    let new =
        record::NewEntry { link, kind: CERTIFICATE, body_version: CERTIFICATE_VERSION, claimed, boot: None };
    let sealed = seal(&new, &certificate.encode().unwrap(), organisation).unwrap();
    let known =
        [organisation.public(), key.public()].map(|key| NewLog { log: key.log(), key: key.cose().to_vec() });
    let entries = vec![NewEntry::of(&record::open(&sealed.bytes).unwrap())];
    store.ingest(Batch { known: known.into(), entries, ..Batch::default() }).await.unwrap();
    let identity =
        Identity { epoch, log: key.public().log(), organisation: organisation.public().cose().to_vec() };
    store.begin_epoch(&identity, &[]).await.unwrap();
    let signing = home::Signing { key, proof: S::proof() };
    let clock = Clock::set_at(Moment(1_790_000_000_000));
    (Hub::open(store, signing, clock).await.unwrap(), sealed.next())
}
