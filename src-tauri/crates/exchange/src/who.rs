//! Somebody who signs a log, for the tests of this crate.

use bodies::{CERTIFICATE, Certificate, Certified, LastTrusted, PersonId, REVOCATION, Revocation};
use record::{Claimed, Kind, Link, LogId, NewEntry, SecretKey, Signer, open, seal};

use crate::intake::Arrived;

pub(crate) struct Who {
    key: SecretKey,
    link: Link,
}

impl Who {
    pub(crate) fn number(number: u8) -> Who {
        Who { key: SecretKey::take(&mut [number; 32]), link: Link::First }
    }

    pub(crate) fn log(&self) -> LogId {
        self.key.public().log()
    }

    /// Signs something as the next entry.
    pub(crate) fn says(&mut self, kind: Kind, body: &[u8]) -> Arrived {
        let claimed = Claimed { millis: 1_795_600_000_000, offset_minutes: 0 };
        let new = NewEntry { link: self.link, kind, body_version: 1, claimed, boot: None };
        let sealed = seal(&new, body, &self.key).unwrap();
        self.link = sealed.next();
        Arrived::of(&open(&sealed.bytes).unwrap())
    }

    pub(crate) fn certifies(&mut self, whom: &Who, certified: Certified) -> Arrived {
        let certificate = Certificate { key: whom.key.public().clone(), label: String::new(), certified };
        self.says(CERTIFICATE, &certificate.encode().unwrap())
    }

    pub(crate) fn revokes(&mut self, whom: &Who, last: Option<LastTrusted>) -> Arrived {
        let person = PersonId([1; 16]);
        let revocation = Revocation { log: whom.log(), last, reason: "stolen".into(), person };
        self.says(REVOCATION, &revocation.encode().unwrap())
    }
}

/// An entry as the last one that is trusted.
pub(crate) fn at(arrived: &Arrived) -> Option<LastTrusted> {
    Some(LastTrusted { seq: arrived.id.seq, payload: arrived.id.payload })
}
