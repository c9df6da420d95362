//! Signing: the finished visit becomes an entry at the end of this phone's log, and its draft is gone.

use bodies::{
    PROPOSAL, PROPOSAL_VERSION, Proposal, Proposed, Technician, UnitFitted, VISIT, VISIT_VERSION, Visit,
};
use domain::visit::{Draft, Finished, Remark, assess, fitted};
use record::{Boot, BootMark, Kind, Link, LogId, NewEntry, PayloadHash, Sealed, SecretKey, Seq, Signer};
use store::{Claimed, SignedVisit};

use crate::view::{Confirming, RecordView};
use crate::visits::taken_up;
use crate::{Error, Now, Phone, identity, records, show, tag};

impl Phone {
    /// Signs a visit of somebody who set no PIN.
    ///
    /// # Errors
    ///
    /// As [`Phone::visit_sign_confirmed`].
    pub fn visit_sign(&self, id: &str) -> Result<RecordView, Error> {
        self.visit_sign_confirmed(id, &Confirming::Nothing)
    }

    /// Signs a visit, once it is confirmed who signs.
    ///
    /// Refused until the visit holds what it must, Back in service included. The entry is made, opened and
    /// verified before it is kept; keeping it and removing the draft are one transaction.
    ///
    /// # Errors
    ///
    /// [`Error::NotReady`], which costs no try of the PIN; [`Error::NoTechnician`]; [`Error::PinAsked`], [`Error::WrongPin`]
    /// and what else confirming says; [`Error::Key`], [`Error::Body`] for a visit too long for a record, and what the store
    /// says. The visit is then still open.
    pub fn visit_sign_confirmed(&self, id: &str, how: &Confirming) -> Result<RecordView, Error> {
        let _changing = self.changing();
        let now = self.now();
        let draft = taken_up(&self.kept_draft(id)?, now)?;
        let mut finished = finished(&draft)?;
        let technician = self.confirm(how, &mut finished)?;
        let cited = self.observations_for(id)?;
        let visit = Visit { technician, app: APP.to_owned(), finished, cited };
        let key = identity::signer(self.store(), self.ports())?;
        let link = self.place_after(key.public().log())?;
        let sealed = sealed(&key, link, (VISIT, VISIT_VERSION), &visit.encode()?, now)?;
        let entry = entry(&sealed);
        let mut following = Vec::new();
        if let Some(unit) = unit_fitted(&draft, sealed.id.payload) {
            let proposal =
                self.proposal(technician, &draft.instrument.tag, Proposed::Unit(Box::new(unit)))?;
            following.push(seal_proposal(&key, sealed.next(), &proposal, now)?);
        }
        self.store().sign_with(id, &entry, &listed(&visit, entry.place, now), &following)?;
        self.forget_pending();
        self.record(&records::id(entry.place))
    }

    /// Signs a proposal to the register and keeps it. It holds on this phone from now on.
    pub(crate) fn propose(&self, tag: &str, what: Proposed) -> Result<(), Error> {
        let now = self.now();
        let proposal = self.proposal(self.signatory()?, tag, what)?;
        let key = identity::signer(self.store(), self.ports())?;
        let link = self.place_after(key.public().log())?;
        self.store().append(&seal_proposal(&key, link, &proposal, now)?)?;
        self.forget_pending();
        Ok(())
    }

    /// Signs a body and puts it at the end of this phone's log.
    pub(crate) fn append(&self, kind: (Kind, u32), body: &[u8]) -> Result<(), Error> {
        let key = identity::signer(self.store(), self.ports())?;
        let link = self.place_after(key.public().log())?;
        self.store().append(&entry(&sealed(&key, link, kind, body, self.now())?))?;
        Ok(())
    }

    fn proposal(&self, technician: Technician, tag: &str, what: Proposed) -> Result<Proposal, Error> {
        let register = self.store().register_name()?;
        let register = register.map_or_else(String::new, |name| format!("{}, {}", name.name, name.dated));
        Ok(Proposal { technician, app: APP.to_owned(), register, tag: tag.to_owned(), what })
    }

    /// Returns where the next entry of a log stands.
    fn place_after(&self, log: LogId) -> Result<Link, Error> {
        let Some(tip) = self.store().tip(store::LogId(log.0))? else {
            return Ok(Link::First);
        };
        let seq = Seq::new(tip.seq.0).ok_or(record::Error::LogFull)?;
        Ok(Link::After { seq, payload: record::PayloadHash(tip.hash.0) })
    }
}

/// Makes an entry, opens it and verifies it, as whoever gets it will.
fn sealed(
    key: &SecretKey,
    link: Link,
    (kind, body_version): (Kind, u32),
    body: &[u8],
    now: Now,
) -> Result<Sealed, Error> {
    let claimed = record::Claimed { millis: now.wall.0, offset_minutes: now.offset_minutes };
    let new = NewEntry { link, kind, body_version, claimed, boot: boot(now) };
    let sealed = record::seal(&new, body, key)?;
    record::verify(&record::open(&sealed.bytes)?, key.public())?;
    Ok(sealed)
}

fn seal_proposal(
    key: &SecretKey,
    link: Link,
    proposal: &Proposal,
    now: Now,
) -> Result<store::NewEntry, Error> {
    let kind = (PROPOSAL, PROPOSAL_VERSION);
    Ok(entry(&sealed(key, link, kind, &proposal.encode()?, now)?))
}

/// Returns the unit that a visit found fitted in place of the register's.
fn unit_fitted(draft: &Draft, visit: PayloadHash) -> Option<UnitFitted> {
    let row = fitted(draft)?;
    let before = draft.instrument.serial.clone();
    Some(UnitFitted { before, serial: row.serial, limits: row.limits, visit })
}

fn finished(draft: &Draft) -> Result<Finished, Error> {
    let assessment = assess(draft).map_err(|_| Error::UnreadableInstrument)?;
    assessment.finish(draft).map_err(|missing| {
        let first = missing.first().map_or_else(String::new, said);
        Error::NotReady { missing: missing.len(), first }
    })
}

fn said(remark: &Remark) -> String {
    if remark.remedy.is_empty() { remark.text.clone() } else { format!("{} {}", remark.text, remark.remedy) }
}

/// What wrote the record, as it says itself.
pub(crate) const APP: &str = concat!("headmark ", env!("CARGO_PKG_VERSION"));

fn boot(now: Now) -> Option<Boot> {
    let since = now.since_boot?;
    let elapsed_millis = u64::try_from(since.elapsed.as_millis()).ok()?;
    Some(Boot { elapsed_millis, mark: BootMark::new(&since.mark)? })
}

fn entry(sealed: &Sealed) -> store::NewEntry {
    store::NewEntry {
        place: store::Place { log: store::LogId(sealed.id.log.0), seq: store::Seq(sealed.id.seq.get()) },
        hash: store::PayloadHash(sealed.id.payload.0),
        previous: sealed.header.previous.map(|hash| store::PayloadHash(hash.0)),
        kind: store::Kind(u64::from(sealed.header.kind.0)),
        bytes: sealed.bytes.clone(),
    }
}

fn listed(visit: &Visit, place: store::Place, now: Now) -> SignedVisit {
    let instrument = &visit.finished.instrument;
    SignedVisit {
        place,
        tag_key: tag::key(&instrument.tag),
        tag: instrument.tag.clone(),
        service: instrument.service.clone(),
        site: instrument.site.name.clone(),
        signed_at: Claimed(now.wall.0),
        verdict: show::short_verdict(&visit.finished.verdict).to_owned(),
    }
}
