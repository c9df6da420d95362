//! A log that is no longer trusted, from a place on.

use record::{Kind, LogId, PayloadHash, Seq};

use crate::body::{Body, body_methods};
use crate::codec::{Fields, Map, Written, bytes};
use crate::{Error, PersonId};

/// The kind of entry that holds a revocation.
pub const REVOCATION: Kind = Kind(8);

/// The version of the revocation's body that is written here.
pub const REVOCATION_VERSION: u32 = 1;

/// The last entry of a log that is still trusted. Named by its hash, so that nothing can be slipped in below it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LastTrusted {
    /// Its place.
    pub seq: Seq,
    /// The hash of its payload.
    pub payload: PayloadHash,
}

/// A revocation as it is signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Revocation {
    /// The log.
    pub log: LogId,
    /// The last entry that is still trusted; none when nothing in it is.
    pub last: Option<LastTrusted>,
    /// Why; never empty.
    pub reason: String,
    /// Who revoked it.
    pub person: PersonId,
}

mod key {
    pub(super) const LOG: u64 = 1;
    pub(super) const SEQ: u64 = 2;
    pub(super) const PAYLOAD: u64 = 3;
    pub(super) const REASON: u64 = 4;
    pub(super) const PERSON: u64 = 5;
}

body_methods!(Revocation);

impl Body for Revocation {
    const KIND: Kind = REVOCATION;
    const VERSION: u32 = REVOCATION_VERSION;
    const NAME: &'static str = "revocation";
    const VERSIONED: &'static str = "revocation version";

    fn write(&self, map: &mut Map) -> Written {
        map.put(key::LOG, |out| Ok(out.bytes(&self.log.0)?.ok()?))?;
        // Always there: a revocation that leaves it out must not pass for one of the whole log.
        let seq = self.last.map_or(0, |last| last.seq.get());
        map.put(key::SEQ, |out| Ok(out.u64(seq)?.ok()?))?;
        map.some(key::PAYLOAD, self.last.as_ref(), |out, last| Ok(out.bytes(&last.payload.0)?.ok()?))?;
        map.texts(&[(key::REASON, &self.reason)])?;
        map.put(key::PERSON, |out| self.person.write(out))
    }

    fn read(map: &mut Fields<'_>, _: u32) -> Result<Revocation, Error> {
        let place = "revocation.last";
        let number = map.need(key::SEQ, |from| from.u64().map_err(|_| Error::at(place)))?;
        let payload = map.some(key::PAYLOAD, |from| bytes(from, place))?.map(PayloadHash);
        let last = match (number, payload) {
            (0, None) => None,
            (_, Some(payload)) => {
                Some(LastTrusted { seq: Seq::new(number).ok_or(Error::at(place))?, payload })
            }
            _ => return Err(Error::at(place)),
        };
        Ok(Revocation {
            log: LogId(map.need(key::LOG, |from| bytes(from, "revocation.log"))?),
            last,
            reason: map.text(key::REASON)?,
            person: map.need(key::PERSON, |from| PersonId::read(from, "revocation.person"))?,
        })
    }

    fn check(&self) -> Result<(), &'static str> {
        if self.reason.trim().is_empty() { Err("revocation.reason") } else { Ok(()) }
    }
}
