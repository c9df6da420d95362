//! What a row says it is, and whether it is as it was written.
//!
//! A row's seal begins with the name of its table, so a row can be told by its seal alone.

use bodies::PhotoHash;
use record::PublicKey;

use super::cells::RawRow;
use super::value::Value::{self, Bytes, Null, Number, Text};
use crate::known::{self, HubLog};
use crate::photos::{self, PhotoState};
use crate::seal::Seal;
use crate::{
    Arrival, Claimed, Draft, Identity, Kind, Listed, LogId, NewEntry, PayloadHash, Place, RegisterName, Seq,
    SignedVisit, TagKey, drafts, feed, identity, log, marks, register, settings, signed,
};

/// A row that is as it was written; an entry may also be one that is not, and is then proved by its signature or not at
/// all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Candidate {
    Identity(i64, Identity),
    Entry { arrival: i64, row: NewEntry, sealed: bool, parked: bool },
    Draft(Draft, i64),
    RegisterName(RegisterName),
    Listed(Listed),
    Sheet(TagKey, String),
    Setting(String, String),
    Mark(String, Vec<u8>),
    Key(PublicKey),
    HubLog(HubLog),
    KnownLog(LogId),
    Photo(photos::Known),
    Area(String),
    Signed(SignedVisit),
}

/// Returns what a row is; none for what is no row of ours, or is not as it was written.
pub(super) fn of(row: &RawRow) -> Option<Candidate> {
    match row.values.as_slice() {
        [Null, rest @ ..] => numbered(row.rowid, rest),
        [Text(_), ..] => named(&row.values),
        [Bytes(_), ..] => of_bytes(&row.values),
        _ => None,
    }
}

/// Tables whose key is the row's own number.
fn numbered(rowid: i64, values: &[Value]) -> Option<Candidate> {
    match values {
        [Bytes(log), Bytes(sealed_key), Bytes(seal)]
        | [Bytes(log), Bytes(sealed_key), Bytes(seal), Number(_)] => {
            let found = Identity { log: log_id(log)?, sealed_key: sealed_key.clone() };
            holds(identity::seal(&found), seal)?;
            Some(Candidate::Identity(rowid, found))
        }
        [Text(name), Text(dated), Bytes(seal)] => {
            let name = RegisterName { name: name.clone(), dated: dated.clone() };
            holds(register::name_seal(&name), seal)?;
            Some(Candidate::RegisterName(name))
        }
        [Text(_carrier), rest @ ..] => entry(rowid, rest, true),
        rest => entry(rowid, rest, false),
    }
}

fn entry(arrival: i64, values: &[Value], parked: bool) -> Option<Candidate> {
    let [Bytes(log), Number(seq), Bytes(hash), Bytes(previous), Number(kind), Bytes(bytes), Bytes(seal)] =
        values
    else {
        return None;
    };
    let previous = if previous.is_empty() { None } else { Some(payload(previous)?) };
    let row = NewEntry {
        place: Place { log: log_id(log)?, seq: Seq(u64::try_from(*seq).ok()?) },
        hash: payload(hash)?,
        previous,
        kind: Kind(u64::try_from(*kind).ok()?),
        bytes: bytes.clone(),
    };
    let sealed = holds(log::seal(&row), seal).is_some();
    Some(Candidate::Entry { arrival, row, sealed, parked })
}

/// Tables that begin with a text.
fn named(values: &[Value]) -> Option<Candidate> {
    match values {
        [Text(id), Text(tag), Number(touched), Number(saved_at), Text(body), Bytes(seal)] => {
            let (id, tag, body) = (id.clone(), tag.clone(), body.clone());
            let draft = Draft { id, tag, body, saved_at: Claimed(*saved_at) };
            holds(drafts::seal(&draft, *touched), seal)?;
            Some(Candidate::Draft(draft, *touched))
        }
        [Text(key), Text(tag), Text(service), Text(site), Text(serial), Bytes(seal)]
        | [Text(key), Text(tag), Text(service), Text(site), Text(serial), Bytes(seal), Text(_)] => {
            let (tag, service) = (tag.clone(), service.clone());
            let listed =
                Listed { key: TagKey(key.clone()), tag, service, site: site.clone(), serial: serial.clone() };
            holds(register::listed_seal(&listed), seal)?;
            Some(Candidate::Listed(listed))
        }
        [Text(name), Text(value), Bytes(seal)] => {
            let key = TagKey(name.clone());
            if holds(register::sheet_seal(&key, value), seal).is_some() {
                return Some(Candidate::Sheet(key, value.clone()));
            }
            holds(settings::seal(name, value), seal)?;
            Some(Candidate::Setting(name.clone(), value.clone()))
        }
        [Text(name), Bytes(value), Bytes(seal)] => {
            holds(marks::seal(name, value), seal)?;
            Some(Candidate::Mark(name.clone(), value.clone()))
        }
        [Text(area), Bytes(epoch), Number(version), Bytes(seal)] => {
            let epoch = bodies::Epoch(epoch.as_slice().try_into().ok()?);
            holds(feed::seal(area, epoch, u64::try_from(*version).ok()?), seal)?;
            Some(Candidate::Area(area.clone()))
        }
        _ => None,
    }
}

/// Tables that begin with bytes.
fn of_bytes(values: &[Value]) -> Option<Candidate> {
    match values {
        [Bytes(log), Bytes(second)] => {
            let log = log_id(log)?;
            if holds(known::known_seal(log), second).is_some() {
                return Some(Candidate::KnownLog(log));
            }
            let key = PublicKey::from_cose(second).ok()?;
            (LogId::of(key.log()) == log).then_some(Candidate::Key(key))
        }
        [Bytes(log), Bytes(epoch), Bytes(seal)] => {
            let epoch = if epoch.is_empty() { None } else { Some(epoch.as_slice().try_into().ok()?) };
            let hub = HubLog { log: log_id(log)?, epoch };
            holds(known::seal(&hub), seal)?;
            Some(Candidate::HubLog(hub))
        }
        [Bytes(hash), Number(length), Text(media), Text(state), Number(got), Bytes(seal)] => {
            let photo = photos::Known {
                hash: PhotoHash(hash.as_slice().try_into().ok()?),
                length: u64::try_from(*length).ok()?,
                media: media.clone(),
                state: PhotoState::from_word(state)?,
                got: u64::try_from(*got).ok()?,
            };
            holds(photos::seal(&photo), seal)?;
            Some(Candidate::Photo(photo))
        }
        _ => visit(values),
    }
}

fn visit(values: &[Value]) -> Option<Candidate> {
    let [Bytes(log), Number(seq), Number(arrival), rest @ ..] = values else { return None };
    let [Text(key), Text(tag), Text(service), Text(site), Number(signed_at), Text(verdict), Bytes(seal)] =
        rest
    else {
        return None;
    };
    let visit = SignedVisit {
        place: Place { log: log_id(log)?, seq: Seq(u64::try_from(*seq).ok()?) },
        tag_key: TagKey(key.clone()),
        tag: tag.clone(),
        service: service.clone(),
        site: site.clone(),
        signed_at: Claimed(*signed_at),
        verdict: verdict.clone(),
    };
    holds(signed::seal(&visit, Arrival(*arrival)), seal)?;
    Some(Candidate::Signed(visit))
}

fn holds(seal: Seal, stored: &[u8]) -> Option<()> {
    (seal.done() == stored).then_some(())
}

fn log_id(bytes: &[u8]) -> Option<LogId> {
    bytes.try_into().ok().map(LogId)
}

fn payload(bytes: &[u8]) -> Option<PayloadHash> {
    bytes.try_into().ok().map(PayloadHash)
}
