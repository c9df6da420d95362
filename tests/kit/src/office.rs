//! The office: an organisation, its hub, and what both sign. It keeps nothing; what it is told to have received, it says
//! to have received.

use std::collections::BTreeSet;

use anyhow::{Context, Result};
use base64::Engine;
use base64::engine::general_purpose::URL_SAFE_NO_PAD;
use bodies::{
    CERTIFICATE, CERTIFICATE_VERSION, CHANGE, CHANGE_VERSION, Certificate, Certified, Change, Decision,
    Epoch, Grade, HeldRun, PersonId, PhotoHash, RECEIPT, RECEIPT_VERSION, REVIEW, REVIEW_VERSION, Receipt,
    RegisterRow, Review, SpkiHash,
};
use domain::visit::Instrument;
use exchange::intake::Arrived;
use exchange::page::{Named, PEOPLE, Page, SignedPage, Upsert};
use exchange::session::{Ledger, Taken};
use field::Met;
use record::{
    Claimed, Kind, Link, LogId, NewEntry, PayloadHash, PublicKey, Sealed, SecretKey, Seq, Signer, Strict,
};

const EPOCH: Epoch = Epoch([0x5e; 16]);
const CODE: [u8; 16] = [0xc0; 16];
const TLS: [u8; 32] = [0x71; 32];
/// Whose phone it certifies.
const OWNER: PersonId = PersonId([7; 16]);
/// Who decides.
const SUPERVISOR: PersonId = PersonId([0x55; 16]);

/// COSE_Keys.
type Keys = Vec<Vec<u8>>;
/// Entries, as they are signed.
type Entries = Vec<Vec<u8>>;

/// An organisation with a hub.
#[derive(Debug)]
pub struct Office {
    organisation: SecretKey,
    hub: SecretKey,
    /// The hub's certificate.
    certified: Vec<u8>,
    /// Where the hub's next entry stands.
    next: std::cell::Cell<Link>,
}

impl Office {
    /// The office, the same each time.
    ///
    /// # Errors
    ///
    /// When its keys cannot sign.
    pub fn new() -> Result<Office> {
        let organisation = SecretKey::take(&mut [0x0a; 32]);
        let hub = SecretKey::take(&mut [0x0b; 32]);
        let certificate = Certificate {
            key: hub.public().clone(),
            label: "hub".into(),
            certified: Certified::Hub { tls: vec![SpkiHash(TLS)], epoch: EPOCH, replaces: None },
        };
        let body = certificate.encode()?;
        let certified = sealed(&organisation, Link::First, (CERTIFICATE, CERTIFICATE_VERSION), &body)?.bytes;
        Ok(Office { organisation, hub, certified, next: std::cell::Cell::new(Link::First) })
    }

    /// The text of the code that the hub shows.
    #[must_use]
    pub fn invitation(&self) -> String {
        let fingerprint = URL_SAFE_NO_PAD.encode(self.organisation.public().log().0);
        let code = URL_SAFE_NO_PAD.encode(CODE);
        format!(
            "headmark-enrol:1?hub=https://hub.marrowby.example:8443&organisation={fingerprint}&code={code}"
        )
    }

    /// The hub as whoever carried the code met it.
    #[must_use]
    pub fn met(&self) -> Met {
        Met { hub: self.hub.public().log(), pins: vec![TLS] }
    }

    /// Returns the keys and entries by which a phone is confirmed.
    ///
    /// # Errors
    ///
    /// When the key is none, or the hub's cannot sign.
    pub fn confirms(&self, key: &[u8]) -> Result<(Keys, Entries)> {
        let certificate = Certificate {
            key: PublicKey::from_cose(key)?,
            label: "phone".into(),
            certified: Certified::Device { person: OWNER, areas: BTreeSet::new() },
        };
        let device = self.says((CERTIFICATE, CERTIFICATE_VERSION), &certificate.encode()?)?;
        let keys = vec![self.organisation.public().cose().to_vec(), self.hub.public().cose().to_vec()];
        Ok((keys, vec![self.certified.clone(), device]))
    }

    /// Makes a phone belong to the hub, from the code to the confirmation.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn enrols(&self, phone: &field::Phone) -> Result<()> {
        let invited = phone.enrol_begin(&self.invitation())?;
        phone.enrol_asked(&invited, &self.met())?;
        let (keys, entries) = self.confirms(&invited.key)?;
        phone.enrol_confirmed(&keys, &entries)?;
        Ok(())
    }

    /// Gives a phone the hub's receipt for the first entries of its log.
    ///
    /// # Errors
    ///
    /// As [`Office::received`].
    pub fn receives(&self, phone: &field::Phone, entries: u64) -> Result<()> {
        self.received(phone, entries, Grade::Stored, &[])
    }

    /// Gives a phone the hub's receipt of a grade for the first entries of its log, and for photos.
    ///
    /// # Errors
    ///
    /// What the core says; also when the log has fewer entries.
    pub fn received(
        &self,
        phone: &field::Phone,
        entries: u64,
        grade: Grade,
        photos: &[PhotoHash],
    ) -> Result<()> {
        let log = phone.exchange_key()?.public().log();
        let to = Seq::new(entries).context("a receipt is for one entry at least")?;
        let place = store::Place { log: store::LogId::of(log), seq: store::Seq::of(to) };
        let last = phone.ledger().entry(place)?.context("the log is shorter")?;
        let runs = vec![HeldRun { from: Seq::FIRST, to, end: last.entry.hash.of_record() }];
        let photos = photos.iter().copied().collect();
        self.gives(phone, &Receipt { epoch: Some(EPOCH), log, runs, photos, grade })
    }

    /// Gives a phone the hub's receipt for a record that a copy of the phone signed after these entries.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn received_of_a_copy(&self, phone: &field::Phone, entries: u64) -> Result<()> {
        let log = phone.exchange_key()?.public().log();
        let to = Seq::new(entries + 1).context("a place of a log")?;
        let end = PayloadHash::of(b"a record that a copy signed");
        let runs = vec![HeldRun { from: Seq::FIRST, to, end }];
        let photos = BTreeSet::new();
        self.gives(phone, &Receipt { epoch: Some(EPOCH), log, runs, photos, grade: Grade::Stored })
    }

    fn gives(&self, phone: &field::Phone, receipt: &Receipt) -> Result<()> {
        self.tells(phone, (RECEIPT, RECEIPT_VERSION), &receipt.encode()?)
    }

    /// Approves the visit at a place of a phone's log.
    ///
    /// # Errors
    ///
    /// What the core says; also when nothing stands there.
    pub fn approves(&self, phone: &field::Phone, place: u64) -> Result<()> {
        self.decides(phone, place, Decision::Approved, "")
    }

    /// Returns the visit at a place of a phone's log, with words.
    ///
    /// # Errors
    ///
    /// As [`Office::approves`].
    pub fn returns(&self, phone: &field::Phone, place: u64, words: &str) -> Result<()> {
        self.decides(phone, place, Decision::Returned, words)
    }

    /// Declines the proposal at a place of a phone's log, with words.
    ///
    /// # Errors
    ///
    /// As [`Office::approves`].
    pub fn declines(&self, phone: &field::Phone, place: u64, words: &str) -> Result<()> {
        self.decides(phone, place, Decision::Declined, words)
    }

    /// Brings a phone what somebody changed at the hub itself.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn changed(&self, phone: &field::Phone, change: &Change) -> Result<()> {
        self.tells(phone, (CHANGE, CHANGE_VERSION), &change.encode()?)
    }

    fn decides(&self, phone: &field::Phone, place: u64, decision: Decision, note: &str) -> Result<()> {
        let seq = Seq::new(place).context("places count from 1")?;
        let log = store::LogId::of(phone.exchange_key()?.public().log());
        let kept = phone.ledger().entry(store::Place { log, seq: store::Seq::of(seq) })?;
        let subject = record::open(&kept.context("nothing stands there")?.entry.bytes)?.id;
        let review = Review { subject, decision, note: note.into(), person: SUPERVISOR };
        self.tells(phone, (REVIEW, REVIEW_VERSION), &review.encode()?)
    }

    /// Brings a phone the names of people, all that the hub knows, by their numbers.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn names(&self, phone: &field::Phone, version: u64, people: &[(u8, &str)]) -> Result<()> {
        let named =
            |(number, name): &(u8, &str)| Named { person: PersonId([*number; 16]), name: (*name).into() };
        let people = Some(people.iter().map(named).collect());
        let page = Page { people, ..snapshot(PEOPLE, version) };
        let hub = self.hub.public().log();
        phone.ledger().take(&Taken { pages: vec![SignedPage { hub, page }], ..nothing() })?;
        phone.exchanged();
        Ok(())
    }

    /// Brings a phone the next entry of the hub's log, as an exchange does.
    fn tells(&self, phone: &field::Phone, kind: (Kind, u32), body: &[u8]) -> Result<()> {
        let entry = self.says(kind, body)?;
        let entries = vec![Arrived::of(&record::open(&entry)?)];
        phone.ledger().take(&Taken { entries, news: Some(1), ..nothing() })?;
        phone.exchanged();
        Ok(())
    }

    /// Gives a phone a page of the hub's register whose rows no version of it can read.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn feeds_unreadable(&self, phone: &field::Phone, tags: &[&str]) -> Result<()> {
        let unknown =
            |tag: &&str| Upsert { tag: (*tag).to_owned(), row: vec![0xa1, 0x19, 0x03, 0xe7, 0x01].into() };
        self.feeds(phone, tags.iter().map(unknown).collect())
    }

    /// Gives a phone a page of the hub's register.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn feeds_rows(&self, phone: &field::Phone, rows: &[Instrument]) -> Result<()> {
        let upserts = rows
            .iter()
            .map(|row| Ok(Upsert { tag: row.tag.clone(), row: RegisterRow(row.clone()).encode()?.into() }));
        self.feeds(phone, upserts.collect::<Result<_>>()?)
    }

    fn feeds(&self, phone: &field::Phone, upserts: Vec<Upsert>) -> Result<()> {
        let page = Page { upserts, ..snapshot("", 1) };
        let signed = page.sign(&self.hub)?;
        let pages = vec![Page::open(&signed, self.hub.public(), &Strict)?];
        phone.ledger().take(&Taken { pages, ..nothing() })?;
        Ok(())
    }

    /// The log of the organisation's key.
    #[must_use]
    pub fn organisation(&self) -> LogId {
        self.organisation.public().log()
    }

    /// Signs the next entry of the hub's log.
    fn says(&self, kind: (Kind, u32), body: &[u8]) -> Result<Vec<u8>> {
        let sealed = sealed(&self.hub, self.next.get(), kind, body)?;
        self.next.set(sealed.next());
        Ok(sealed.bytes)
    }
}

/// The first page of an area, with nothing on it.
fn snapshot(area: &str, to: u64) -> Page {
    Page {
        epoch: EPOCH,
        area: area.to_owned(),
        from: 0,
        to,
        snapshot: true,
        upserts: Vec::new(),
        removals: Vec::new(),
        sensors: None,
        people: None,
    }
}

/// An exchange that brings nothing.
fn nothing() -> Taken {
    let (keys, entries, pages) = (Vec::new(), Vec::new(), Vec::new());
    Taken { epoch: EPOCH, keys, entries, pages, news: None, given_back: false }
}

fn sealed(key: &SecretKey, link: Link, (kind, body_version): (Kind, u32), body: &[u8]) -> Result<Sealed> {
    // A supervisor looks at things the day after.
    let days = if kind == REVIEW { 1 } else { 0 };
    let claimed = Claimed { millis: 1_795_600_000_000 + days * 86_400_000, offset_minutes: 0 };
    Ok(record::seal(&NewEntry { link, kind, body_version, claimed, boot: None }, body, key)?)
}
