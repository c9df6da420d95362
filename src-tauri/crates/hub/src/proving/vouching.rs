//! Whose keys signed: who vouches for the logs of a file, by the certificates that are in it.

use std::collections::{BTreeMap, BTreeSet};

use bodies::{CERTIFICATE, Certificate, Certified, LastTrusted, REVIEW, REVOCATION};
use exchange::intake::Arrived;
use exchange::trust::{Standing, Trust, Unproved};
use record::{Entry, EntryId, LogId, Seq};

/// The entries of a file that hold, by their logs.
pub(super) type Held<'b> = BTreeMap<LogId, Vec<(usize, Entry<'b>)>>;

/// Whom a file's organisation trusts.
pub(super) struct Vouchers {
    trust: Trust,
    /// The logs that it revoked, each with the entries that lead to the last trusted one.
    leading: BTreeMap<LogId, BTreeSet<EntryId>>,
}

impl Vouchers {
    /// Folds what the file's certificates say, from the organisation that is expected, or else from the only one that
    /// certifies here and that nobody named as its successor. None where no certificate, or more than one beginning, is
    /// in the file.
    pub(super) fn of(held: &Held<'_>, expected: Option<LogId>) -> Option<Vouchers> {
        let matters = |entry: &&Entry<'_>| [CERTIFICATE, REVOCATION, REVIEW].contains(&entry.header.kind);
        let entries = || held.values().flatten().map(|(_, entry)| entry);
        let said: Vec<Arrived> = entries().filter(matters).map(Arrived::of).collect();
        let root = expected.or_else(|| only_root(entries()))?;
        let mut trust = Trust::rooted_in(root);
        trust.learn(&said);
        for Unproved { log, last, entries } in trust.unproved() {
            let leading = leading_to(held, log, last);
            trust.prove(last, entries.into_iter().filter(|id| leading.contains(id)));
        }
        let cuts = trust.revocations().filter_map(|(log, last)| Some((log, last?)));
        let leading = cuts.map(|(log, last)| (log, leading_to(held, log, last))).collect();
        Some(Vouchers { trust, leading })
    }

    /// Returns the log of the organisation that the file begins from.
    pub(super) fn organisation(&self) -> LogId {
        self.trust.organisation()
    }

    /// Returns whether somebody vouches for a log.
    pub(super) fn knows(&self, log: LogId) -> bool {
        self.trust.knows(log)
    }

    /// Returns whether it was decided which branch of a log counts.
    pub(super) fn decided(&self, log: LogId) -> bool {
        self.trust.revoked(log).is_some()
    }

    /// Returns whether an entry of a log that was revoked stands behind what is trusted of it.
    pub(super) fn is_after_revocation(&self, id: &EntryId) -> bool {
        let leads = |_: Seq, _| self.leading.get(&id.log).is_some_and(|leading| leading.contains(id));
        self.trust.standing(id, None, leads) == Standing::AfterRevocation
    }
}

/// The log that certifies hubs or a successor, and is no successor itself.
fn only_root<'e, 'b: 'e>(entries: impl Iterator<Item = &'e Entry<'b>>) -> Option<LogId> {
    let (mut certify, mut named) = (BTreeSet::new(), BTreeSet::new());
    for entry in entries.filter(|entry| entry.header.kind == CERTIFICATE) {
        match Certificate::of_entry(entry) {
            Ok(Certificate { certified: Certified::Hub { .. }, .. }) => _ = certify.insert(entry.id.log),
            Ok(Certificate { certified: Certified::Organisation, key, .. }) => {
                certify.insert(entry.id.log);
                named.insert(key.log());
            }
            _ => {}
        }
    }
    let mut roots = certify.difference(&named);
    roots.next().filter(|_| roots.next().is_none()).copied()
}

/// The entries of a log from a last trusted one down, as far as each names the one before it.
fn leading_to(held: &Held<'_>, log: LogId, last: LastTrusted) -> BTreeSet<EntryId> {
    let of_log = held.get(&log).map_or(&[][..], Vec::as_slice);
    let entries: BTreeMap<EntryId, &Entry<'_>> = of_log.iter().map(|(_, entry)| (entry.id, entry)).collect();
    let (mut leading, mut next) =
        (BTreeSet::new(), Some(EntryId { log, seq: last.seq, payload: last.payload }));
    while let Some((id, entry)) = next.and_then(|id| entries.get_key_value(&id)) {
        leading.insert(*id);
        let before = Seq::new(id.seq.get() - 1).zip(entry.header.previous);
        next = before.map(|(seq, payload)| EntryId { log, seq, payload });
    }
    leading
}
