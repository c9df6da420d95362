//! Who may say what: certificates, revocations and adoptions, folded into the standing of each log and entry.
//!
//! Three layers, each signed by the one above: the organisation's key (and its successors) certifies hubs and revokes
//! them; a hub certifies devices, revokes them, and adopts entries by hash. All of it is entries, so it travels offline and
//! in any order; the fold does not depend on the order in which it came.
//!
//! An organisation's key that has named its successor has said its last word: what stands behind that in its log counts in
//! nothing. Of two certificates of one hub the later one counts, a successor's before its forerunner's.
//!
//! Standing says whether an entry counts. It never says whether an entry is kept: everything is kept and passed on.
//!
//! Where the organisation revoked a hub's log, what that hub said before counts only on the branch that leads to the last
//! trusted entry: whoever has the key can forge another one below it. Which entries lead there the fold cannot know, since
//! it sees few of them; the keeper looks up what [`Trust::unproved`] names, and says so with [`Trust::prove`].
//!
//! Of a forked log nothing counts from where its branches part, on either of them, until somebody decides: by adopting
//! entries, or by revoking the log up to the last entry of one branch. What a forked hub's log says of others holds all the
//! same until the organisation revokes it, or one stolen key could undo every certificate that the hub ever gave.

use std::collections::{BTreeMap, BTreeSet};

use bodies::{
    CERTIFICATE, Certificate, Certified, Decision, Epoch, LastTrusted, REVIEW, REVOCATION, Review,
    Revocation, SpkiHash,
};
use record::{EntryId, LogId, PayloadHash, PublicKey, Seq};

use crate::intake::Arrived;

/// What an entry is worth here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Standing {
    /// Its signer is certified, and it stands where the signer was trusted.
    Counts,
    /// A supervisor adopted it by its hash.
    Adopted,
    /// Nobody certified its signer yet.
    Parked,
    /// Its signer was revoked, and it stands behind the last trusted entry or on another branch.
    AfterRevocation,
    /// Two branches of its log are held, it stands where they part or behind that, and nobody has decided between them.
    Forked,
}

impl Standing {
    /// Returns whether it counts.
    #[must_use]
    pub fn counts(self) -> bool {
        matches!(self, Standing::Counts | Standing::Adopted)
    }
}

/// A hub as the organisation certified it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HubStanding {
    /// Its key.
    pub key: PublicKey,
    /// Its epoch.
    pub epoch: Epoch,
    /// The hashes of the TLS keys that it may show.
    pub tls: Vec<SpkiHash>,
    /// The hub's log of the epoch before.
    pub replaces: Option<LogId>,
}

/// Entries of a revoked hub's log of which nobody has shown yet that they lead to its last trusted entry.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unproved {
    /// The hub's log.
    pub log: LogId,
    /// Where the branch ends that is trusted.
    pub last: LastTrusted,
    /// The entries, sorted. They count in nothing until they are proved.
    pub entries: Vec<EntryId>,
}

/// Whom somebody trusts.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Trust {
    root: LogId,
    said: BTreeMap<EntryId, Said>,
    /// The organisation's logs, each with the place at which it named the next.
    organisations: Vec<(LogId, Option<Seq>)>,
    hubs: BTreeMap<LogId, HubStanding>,
    devices: BTreeMap<LogId, Certificate>,
    revoked: BTreeMap<LogId, Option<LastTrusted>>,
    adopted: BTreeSet<EntryId>,
    /// Entries that lead to the payload named before them.
    proved: BTreeSet<(PayloadHash, EntryId)>,
}

/// What an entry says that matters here.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Said {
    Certified(Box<Certificate>),
    Revoked(LogId, Option<LastTrusted>),
    Adopted(EntryId),
    /// A visit or a proposal was decided on: kept here only so that it can be proved.
    Decided,
}

impl Trust {
    /// Begins with the log of the organisation's key, whose fingerprint was scanned or typed at enrolment.
    #[must_use]
    pub fn rooted_in(root: LogId) -> Trust {
        let mut trust = Trust {
            root,
            said: BTreeMap::new(),
            organisations: Vec::new(),
            hubs: BTreeMap::new(),
            devices: BTreeMap::new(),
            revoked: BTreeMap::new(),
            adopted: BTreeSet::new(),
            proved: BTreeSet::new(),
        };
        trust.settle();
        trust
    }

    /// Learns what entries say. They were verified; other kinds, and what cannot be read, say nothing here.
    pub fn learn<'e>(&mut self, entries: impl IntoIterator<Item = &'e Arrived>) {
        let mut changes = false;
        for arrived in entries {
            let Some(said) = Said::of(arrived) else { continue };
            let matters = said != Said::Decided;
            changes |= self.said.insert(arrived.id, said).is_none() && matters;
        }
        if changes {
            self.settle();
        }
    }

    /// Returns what has to be looked up, by log: below the last trusted entry of a revoked hub nothing counts until it is
    /// known to lead there.
    #[must_use]
    pub fn unproved(&self) -> Vec<Unproved> {
        let revoked = self.revoked.iter().filter(|(log, _)| self.hubs.contains_key(log));
        let revoked = revoked.filter_map(|(log, last)| Some((*log, (*last)?)));
        let unproved = revoked.map(|(log, last)| {
            let of_log = self.said.keys().filter(|id| id.log == log && id.seq <= last.seq);
            let entries = of_log.filter(|id| !self.leads(id, last)).copied().collect();
            Unproved { log, last, entries }
        });
        unproved.filter(|unproved: &Unproved| !unproved.entries.is_empty()).collect()
    }

    /// Learns which entries lead to a last trusted one. What was missing between may still come, so the others may be
    /// proved later.
    pub fn prove(&mut self, last: LastTrusted, leading: impl IntoIterator<Item = EntryId>) {
        let before = self.proved.len();
        self.proved.extend(leading.into_iter().map(|id| (last.payload, id)));
        if self.proved.len() != before {
            self.settle();
        }
    }

    /// Returns whether a log is the organisation's.
    #[must_use]
    pub fn is_organisation(&self, log: LogId) -> bool {
        self.organisations.iter().any(|(known, _)| *known == log)
    }

    /// Returns the log of the organisation's key that signs now: the root, or the last successor.
    #[must_use]
    pub fn organisation(&self) -> LogId {
        self.organisations.last().map_or(self.root, |(log, _)| *log)
    }

    /// Returns a hub, if the organisation certified it.
    #[must_use]
    pub fn hub(&self, log: LogId) -> Option<&HubStanding> {
        self.hubs.get(&log)
    }

    /// Returns the log of the hub of an epoch; none where the organisation revoked it.
    #[must_use]
    pub fn hub_of(&self, epoch: Epoch) -> Option<LogId> {
        let of_epoch =
            |(log, hub): &(&LogId, &HubStanding)| hub.epoch == epoch && !self.revoked.contains_key(*log);
        self.hubs.iter().find(of_epoch).map(|(log, _)| *log)
    }

    /// Returns the logs of all hubs.
    pub fn hubs(&self) -> impl Iterator<Item = (LogId, &HubStanding)> {
        self.hubs.iter().map(|(log, hub)| (*log, hub))
    }

    /// Returns how many hubs stand before this one: each certificate names the log that the same hub signed before.
    #[must_use]
    pub fn generation(&self, hub: LogId) -> usize {
        let before = |hub: &LogId| self.hubs.get(hub).and_then(|standing| standing.replaces);
        std::iter::successors(before(&hub), before).take(self.hubs.len()).count()
    }

    /// Returns whether an entry is a hub's word: in the log of a hub, and where that was revoked, on the branch
    /// that leads to the last entry that is trusted.
    #[must_use]
    pub fn is_hubs_word(&self, id: &EntryId) -> bool {
        let leads = |last: &Option<LastTrusted>| last.is_some_and(|last| self.leads(id, last));
        self.hubs.contains_key(&id.log) && self.revoked.get(&id.log).is_none_or(leads)
    }

    /// Returns the logs and certificates of all devices.
    pub fn devices(&self) -> impl Iterator<Item = (LogId, &Certificate)> {
        self.devices.iter().map(|(log, certificate)| (*log, certificate))
    }

    /// Returns the logs that were revoked, each with the last entry that is trusted all the same.
    pub fn revocations(&self) -> impl Iterator<Item = (LogId, Option<LastTrusted>)> {
        self.revoked.iter().map(|(log, last)| (*log, *last))
    }

    /// Returns the certificate of a device.
    #[must_use]
    pub fn device(&self, log: LogId) -> Option<&Certificate> {
        self.devices.get(&log)
    }

    /// Returns whether a log was revoked, and up to where it is trusted all the same; an inner none trusts nothing of it.
    #[must_use]
    pub fn revoked(&self, log: LogId) -> Option<Option<LastTrusted>> {
        self.revoked.get(&log).copied()
    }

    /// Returns up to where a log would be trusted if it were revoked once more: of two revocations the one that trusts
    /// less holds.
    #[must_use]
    pub fn revoked_besides(&self, log: LogId, last: Option<LastTrusted>) -> Option<LastTrusted> {
        let mut revoked = self.revoked.clone();
        keep_lowest(&mut revoked, log, last);
        revoked.get(&log).copied().flatten()
    }

    /// Returns whether the signer of a log is known here at all.
    #[must_use]
    pub fn knows(&self, log: LogId) -> bool {
        self.is_organisation(log) || self.hubs.contains_key(&log) || self.devices.contains_key(&log)
    }

    /// Returns what an entry is worth. `parting` is the place where its log parts, of a forked one
    /// ([`Runs::parting`](crate::run::Runs::parting)). `leads_to` says whether the branch that ends with the given payload
    /// at the given place goes through this entry; it is asked only where a log was revoked, which decides a fork too.
    pub fn standing(
        &self,
        id: &EntryId,
        parting: Option<Seq>,
        leads_to: impl FnOnce(Seq, PayloadHash) -> bool,
    ) -> Standing {
        if self.adopted.contains(id) {
            return Standing::Adopted;
        }
        if !self.knows(id.log) {
            return Standing::Parked;
        }
        let Some(last) = self.revoked(id.log) else {
            let forked = parting.is_some_and(|parting| parting <= id.seq);
            return if forked { Standing::Forked } else { Standing::Counts };
        };
        let trusted = last.is_some_and(|last| id.seq <= last.seq && leads_to(last.seq, last.payload));
        if trusted { Standing::Counts } else { Standing::AfterRevocation }
    }

    /// Works everything out anew from what was said.
    fn settle(&mut self) {
        self.organisations = self.successors();
        let (hubs, revoked_by_organisation) = self.organisation_said();
        self.hubs = hubs;
        // Of two certificates of a phone the last of the newest hub holds, as of two decisions.
        let mut hubs: Vec<(usize, LogId)> =
            self.hubs.keys().map(|hub| (self.generation(*hub), *hub)).collect();
        hubs.sort_unstable();
        let mut revoked = revoked_by_organisation.clone();
        let (mut devices, mut adopted) = (BTreeMap::new(), BTreeSet::new());
        for (id, said) in hubs.iter().flat_map(|(_, hub)| self.said_by(*hub)) {
            let until = revoked_by_organisation.get(&id.log);
            if !until.is_none_or(|last| last.is_some_and(|last| self.leads(id, last))) {
                continue;
            }
            match said {
                Said::Certified(certificate) if matches!(certificate.certified, Certified::Device { .. }) => {
                    devices.insert(certificate.key.log(), (**certificate).clone());
                }
                // A hub may not put another hub away; that is the organisation's.
                Said::Revoked(log, last) if !self.hubs.contains_key(log) => {
                    keep_lowest(&mut revoked, *log, *last);
                }
                Said::Adopted(id) => {
                    adopted.insert(*id);
                }
                _ => {}
            }
        }
        (self.devices, self.adopted, self.revoked) = (devices, adopted, revoked);
    }

    /// Whether an entry is known to lead to a last trusted one of its log.
    fn leads(&self, id: &EntryId, last: LastTrusted) -> bool {
        let is_last = (id.seq, id.payload) == (last.seq, last.payload);
        is_last || (id.seq < last.seq && self.proved.contains(&(last.payload, *id)))
    }

    /// The hubs that the organisation certified, and the logs that it revoked.
    fn organisation_said(&self) -> (BTreeMap<LogId, HubStanding>, BTreeMap<LogId, Option<LastTrusted>>) {
        let (mut hubs, mut revoked) = (BTreeMap::new(), BTreeMap::new());
        for (log, until) in &self.organisations {
            let of_log = self.said_by(*log).filter(|(id, _)| until.is_none_or(|until| id.seq <= until));
            for (_, said) in of_log {
                match said {
                    Said::Certified(certificate) => {
                        if let Some(hub) = HubStanding::of(certificate) {
                            hubs.insert(certificate.key.log(), hub);
                        }
                    }
                    Said::Revoked(log, last) => keep_lowest(&mut revoked, *log, *last),
                    Said::Adopted(_) | Said::Decided => {}
                }
            }
        }
        (hubs, revoked)
    }

    /// The organisation's logs: the root, and the key that each of them named first as its successor.
    fn successors(&self) -> Vec<(LogId, Option<Seq>)> {
        let (mut organisations, mut log): (Vec<(LogId, Option<Seq>)>, _) = (Vec::new(), self.root);
        loop {
            let next = self.said_by(log).find_map(|(id, said)| match said {
                Said::Certified(certificate) if certificate.certified == Certified::Organisation => {
                    Some((id.seq, certificate.key.log()))
                }
                _ => None,
            });
            let known = |next: LogId| next == log || organisations.iter().any(|(log, _)| *log == next);
            let next = next.filter(|(_, next)| !known(*next));
            organisations.push((log, next.map(|(seq, _)| seq)));
            match next {
                Some((_, next)) => log = next,
                None => return organisations,
            }
        }
    }

    /// What a log says, by its places.
    fn said_by(&self, log: LogId) -> impl Iterator<Item = (&EntryId, &Said)> {
        let from = EntryId { log, seq: Seq::FIRST, payload: PayloadHash([0; 32]) };
        self.said.range(from..).take_while(move |(id, _)| id.log == log)
    }
}

impl HubStanding {
    fn of(certificate: &Certificate) -> Option<HubStanding> {
        match &certificate.certified {
            Certified::Hub { tls, epoch, replaces } => Some(HubStanding {
                key: certificate.key.clone(),
                epoch: *epoch,
                tls: tls.clone(),
                replaces: *replaces,
            }),
            _ => None,
        }
    }
}

impl Said {
    fn of(arrived: &Arrived) -> Option<Said> {
        let entry = record::open(&arrived.bytes).ok()?;
        match entry.header.kind {
            CERTIFICATE => {
                Certificate::of_entry(&entry).ok().map(|certificate| Said::Certified(Box::new(certificate)))
            }
            REVOCATION => {
                let revocation = Revocation::of_entry(&entry).ok()?;
                Some(Said::Revoked(revocation.log, revocation.last))
            }
            REVIEW => {
                let review = Review::of_entry(&entry).ok()?;
                let adopts = review.decision == Decision::Adopted;
                Some(if adopts { Said::Adopted(review.subject) } else { Said::Decided })
            }
            _ => None,
        }
    }
}

/// Two revocations of one log: the one that trusts less holds.
fn keep_lowest(revoked: &mut BTreeMap<LogId, Option<LastTrusted>>, log: LogId, last: Option<LastTrusted>) {
    let held = revoked.entry(log).or_insert(last);
    if last.map(|last| last.seq) < held.map(|held| held.seq) {
        *held = last;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::who::{Who, at};

    fn hub(tls: u8, epoch: u8, replaces: Option<LogId>) -> Certified {
        Certified::Hub { tls: vec![SpkiHash([tls; 32])], epoch: Epoch([epoch; 16]), replaces }
    }

    fn device() -> Certified {
        Certified::Device { person: bodies::PersonId([2; 16]), areas: BTreeSet::new() }
    }

    /// Learns the entries in their order, and again from the last to the first: both must come to the same.
    fn learnt(root: &Who, entries: &[Arrived]) -> Trust {
        let (mut forth, mut back) = (Trust::rooted_in(root.log()), Trust::rooted_in(root.log()));
        entries.iter().for_each(|entry| forth.learn([entry]));
        entries.iter().rev().for_each(|entry| back.learn([entry]));
        assert_eq!(forth, back);
        forth
    }

    #[test]
    fn a_successor_certifies_and_its_forerunner_says_nothing_more() {
        let (mut first, mut second) = (Who::number(1), Who::number(2));
        let (one, other, third) = (Who::number(11), Who::number(12), Who::number(3));
        let entries = [
            first.certifies(&one, hub(0x21, 1, None)),
            first.certifies(&second, Certified::Organisation),
            second.certifies(&one, hub(0x22, 1, None)),
            // Whoever found the old key.
            first.certifies(&other, hub(0x29, 9, None)),
            first.certifies(&third, Certified::Organisation),
            first.certifies(&one, hub(0x29, 1, None)),
        ];
        let trust = learnt(&first, &entries);
        assert!(trust.is_organisation(second.log()) && !trust.is_organisation(third.log()));
        assert_eq!(trust.organisation(), second.log());
        assert!(trust.hub(other.log()).is_none());
        assert_eq!(trust.hub(one.log()).unwrap().tls, [SpkiHash([0x22; 32])]);
    }

    #[test]
    fn two_keys_that_name_each_other_are_two() {
        let (mut first, mut second) = (Who::number(1), Who::number(2));
        let entries = [
            first.certifies(&second, Certified::Organisation),
            second.certifies(&first, Certified::Organisation),
        ];
        let trust = learnt(&first, &entries);
        assert_eq!(trust.organisation(), second.log());
    }

    #[test]
    fn a_hub_that_was_revoked_certifies_and_says_nothing_behind_that_place() {
        let (mut root, mut old, new) = (Who::number(1), Who::number(11), Who::number(12));
        let (before, after) = (Who::number(21), Who::number(22));
        let mut entries = vec![root.certifies(&old, hub(1, 1, None)), old.certifies(&before, device())];
        let last = at(&entries[1]);
        entries.push(old.certifies(&after, device()));
        entries.push(root.certifies(&new, hub(1, 2, Some(old.log()))));
        let trust = learnt(&root, &entries);
        assert!(trust.hub_of(Epoch([1; 16])).is_some() && trust.device(after.log()).is_some());
        assert!(trust.is_hubs_word(&entries[2].id));
        assert_eq!((trust.generation(old.log()), trust.generation(new.log())), (0, 1));
        entries.push(root.revokes(&old, last));
        let trust = learnt(&root, &entries);
        assert!(trust.device(before.log()).is_some() && trust.device(after.log()).is_none());
        assert!(trust.is_hubs_word(&entries[1].id) && !trust.is_hubs_word(&entries[2].id));
        assert_eq!((trust.hub_of(Epoch([1; 16])), trust.hub_of(Epoch([2; 16]))), (None, Some(new.log())));
    }

    #[test]
    fn of_two_certificates_of_a_phone_that_of_the_newer_hub_holds() {
        let area = |name: &str| Certified::Device {
            person: bodies::PersonId([2; 16]),
            areas: BTreeSet::from([name.to_owned()]),
        };
        // Whichever of the hubs' logs has the higher name.
        for (one, other) in [(11, 12), (12, 11)] {
            let (mut root, mut old, mut new) = (Who::number(1), Who::number(one), Who::number(other));
            let phone = Who::number(21);
            let entries = [
                root.certifies(&old, hub(1, 1, None)),
                root.certifies(&new, hub(1, 2, Some(old.log()))),
                new.certifies(&phone, area("hills")),
                old.certifies(&phone, area("valley")),
            ];
            let trust = learnt(&root, &entries);
            assert_eq!(trust.device(phone.log()).unwrap().certified, area("hills"), "{one} before {other}");
        }
    }

    #[test]
    fn a_hub_puts_no_other_hub_away() {
        let (mut root, mut one, other) = (Who::number(1), Who::number(11), Who::number(12));
        let entries = [
            root.certifies(&one, hub(1, 1, None)),
            root.certifies(&other, hub(2, 2, None)),
            one.revokes(&other, None),
        ];
        assert_eq!(learnt(&root, &entries).revoked(other.log()), None);
    }
}
