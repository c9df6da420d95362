//! Taking a file apart and proving every piece; one that fails stops no other.

use std::collections::{BTreeMap, BTreeSet};

use exchange::bundle::{self, MOST, Piece};
use exchange::packed;
use exchange::page::Page;
use exchange::standpoint::Standpoint;
use hubstore::Found;
use record::{Entry, LogId, PublicKey, Seq, Strict, cbor};

use super::vouching::{Held, Vouchers};
use super::{Failing, Report};
use crate::names::hex;
use crate::recompute::compare;

/// A file that was proved, and which kind it is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Proved {
    /// An export of one log.
    Export(Report),
    /// A bundle.
    Bundle(Report),
    /// Neither; why.
    Neither(String),
}

/// Proves a file: form, body hashes, signatures, chains, the numbers of every visit, and by the certificates in it whose
/// keys signed. Where an `organisation` is expected, a log that it does not vouch for fails.
#[must_use]
pub fn prove(file: &[u8], organisation: Option<LogId>) -> Proved {
    if let Ok(pieces) = export_pieces(file) {
        return Proved::Export(report(&pieces, None, organisation));
    }
    let unpacked = match packed::unpack(file, MOST) {
        Ok(unpacked) => unpacked,
        Err(error) => {
            return Proved::Neither(format!("The file is neither an export nor a bundle. {error}"));
        }
    };
    match bundle::read(&unpacked) {
        Ok((pieces, cut)) => Proved::Bundle(report(&pieces, cut.map(|cut| cut.to_string()), organisation)),
        Err(error) => Proved::Neither(error.to_string()),
    }
}

/// The pieces of an export: a key, then entries, up to where it breaks off.
fn export_pieces(file: &[u8]) -> Result<Vec<Piece<'_>>, record::Error> {
    let split = |bytes| {
        let of_file = |fault: cbor::Fault| record::Error::Cbor {
            part: record::Part::Export,
            at: fault.at,
            flaw: fault.flaw,
        };
        cbor::first(bytes).map_err(of_file)
    };
    let (key, mut rest) = split(file)?;
    PublicKey::from_cose(key)?;
    let mut pieces = vec![Piece::Key(key)];
    while !rest.is_empty() {
        // What is left where an item is broken is one piece that fails.
        let (item, behind) = split(rest).unwrap_or((rest, &[]));
        pieces.push(Piece::Entry(item));
        rest = behind;
    }
    Ok(pieces)
}

fn report(pieces: &[Piece<'_>], cut: Option<String>, organisation: Option<LogId>) -> Report {
    let mut proving = Proving::default();
    for (piece, what) in (1..).zip(pieces) {
        match what {
            Piece::Key(bytes) => proving.key(piece, bytes),
            Piece::Entry(bytes) => proving.entry(piece, bytes),
            Piece::Page(bytes) => proving.page(piece, bytes),
            Piece::Standpoint(bytes) => proving.standpoint(piece, bytes),
            Piece::Other(_) => {}
        }
    }
    if let Some(what) = cut {
        proving.fail(pieces.len() + 1, String::new(), what);
    }
    let vouchers = Vouchers::of(&proving.good, organisation);
    proving.signers(vouchers.as_ref(), organisation.is_some());
    proving.chains(vouchers.as_ref());
    proving.report
}

#[derive(Default)]
struct Proving<'b> {
    keys: BTreeMap<LogId, PublicKey>,
    good: Held<'b>,
    report: Report,
}

impl<'b> Proving<'b> {
    fn fail(&mut self, piece: usize, entry: String, what: impl Into<String>) {
        self.report.failing.push(Failing { piece, entry, what: what.into() });
    }

    fn key(&mut self, piece: usize, bytes: &[u8]) {
        match PublicKey::from_cose(bytes) {
            Ok(key) => {
                self.keys.insert(key.log(), key);
            }
            Err(error) => self.fail(piece, String::new(), error.to_string()),
        }
    }

    fn entry(&mut self, piece: usize, bytes: &'b [u8]) {
        let entry = match record::open(bytes) {
            Ok(entry) => entry,
            Err(error) => return self.fail(piece, String::new(), error.to_string()),
        };
        let Some(key) = self.keys.get(&entry.id.log) else {
            return self.fail(piece, entry.id.to_string(), "The key of its log does not stand before it.");
        };
        if let Err(error) = record::verify(&entry, key) {
            return self.fail(piece, entry.id.to_string(), error.to_string());
        }
        self.report.entries += 1;
        self.numbers(piece, &entry);
        self.good.entry(entry.id.log).or_default().push((piece, entry));
    }

    fn numbers(&mut self, piece: usize, entry: &Entry<'_>) {
        match compare(entry) {
            Some(Found::Agrees) => self.report.agree += 1,
            Some(Found::OtherModel(_)) => self.report.other_model += 1,
            Some(Found::NewerModel(_)) => self.report.newer_model += 1,
            Some(Found::Differs(what)) => {
                self.fail(piece, entry.id.to_string(), format!("Its numbers come out otherwise: {what}"));
            }
            Some(Found::Unreadable(what)) => self.fail(piece, entry.id.to_string(), what),
            None => {}
        }
    }

    fn page(&mut self, piece: usize, bytes: &[u8]) {
        let key = Page::signer_of(bytes).ok().and_then(|log| self.keys.get(&log));
        let Some(key) = key else {
            return self.fail(
                piece,
                String::new(),
                "The key of this register page does not stand before it.",
            );
        };
        match Page::open(bytes, key, &Strict) {
            Ok(_) => self.report.pages += 1,
            Err(error) => self.fail(piece, String::new(), error.to_string()),
        }
    }

    fn standpoint(&mut self, piece: usize, bytes: &[u8]) {
        let key = Standpoint::signer_of(bytes).ok().and_then(|log| self.keys.get(&log));
        let Some(key) = key else {
            let what = "The key of the phone that says where it stands does not stand before it.";
            return self.fail(piece, String::new(), what);
        };
        if let Err(error) = Standpoint::open(bytes, key, &Strict) {
            self.fail(piece, String::new(), error.to_string());
        }
    }

    /// Tells who vouches for the logs. That nobody does fails only where an organisation is `expected`: a selection out of
    /// a phone holds no certificate.
    fn signers(&mut self, vouchers: Option<&Vouchers>, expected: bool) {
        self.report.organisation = vouchers.map(Vouchers::organisation);
        let known = |log: LogId| vouchers.is_some_and(|vouchers| vouchers.knows(log));
        let strangers = self.good.iter().filter(|(log, _)| !known(**log));
        let strangers: Vec<_> = strangers
            .map(|(log, entries)| (*log, entries.len(), entries.first().map_or(0, |(piece, _)| *piece)))
            .collect();
        for (log, records, piece) in strangers {
            self.report.strangers.push((log, records));
            if expected {
                let what = "The organisation that was named does not vouch for the key of this log.";
                self.fail(piece, format!("log {}", hex(&log.0)), what);
            }
        }
        if let Some(vouchers) = vouchers {
            let ids = self.good.values().flatten().map(|(_, entry)| entry.id);
            self.report.after_revocation = ids.filter(|id| vouchers.is_after_revocation(id)).count();
        }
    }

    /// Checks that every entry names the one before it, wherever that is in the file.
    fn chains(&mut self, vouchers: Option<&Vouchers>) {
        let good = std::mem::take(&mut self.good);
        self.report.logs = good.len();
        for (log, entries) in &good {
            let payloads: BTreeSet<_> =
                entries.iter().map(|(_, entry)| (entry.id.seq, entry.id.payload)).collect();
            let places: BTreeSet<u64> = payloads.iter().map(|(seq, _)| seq.get()).collect();
            let (first, last) = (places.first().copied().unwrap_or(0), places.last().copied().unwrap_or(0));
            self.report.gaps += (last - first + 1).saturating_sub(places.len() as u64);
            if places.len() < payloads.len() && vouchers.is_some_and(|vouchers| vouchers.decided(*log)) {
                self.report.decided_forks += 1;
            } else if places.len() < payloads.len() {
                let piece = entries.last().map_or(0, |(piece, _)| *piece);
                let what = "Two records stand at one place: a fork, by somebody who signed with a copied key. Keep both \
                            and report it.";
                self.fail(piece, format!("log {}", hex(&log.0)), what);
            }
            for (piece, entry) in entries {
                let before = entry.id.seq.get() - 1;
                let named = Seq::new(before).zip(entry.header.previous);
                let there = named.is_some_and(|named| payloads.contains(&named));
                if places.contains(&before) && !there {
                    let what = record::Error::BrokenChain(entry.id).to_string();
                    self.fail(*piece, entry.id.to_string(), what);
                }
            }
        }
    }
}
