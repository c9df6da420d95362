//! The organisation key: the root of trust, which signs hub certificates and its own successor and nothing else.
//!
//! It lies sealed in a file of its own, which is to be taken off the machine. With it lies the next place of its log, so
//! that what it signs chains wherever the file is used next.

use std::path::{Path, PathBuf};

use record::{
    Claimed, EntryId, Kind, Link, LogId, NewEntry, PayloadHash, PublicKey, Sealed, SecretKey, Seq, Signer,
    seal,
};
use serde::{Deserialize, Serialize};
use zeroize::{Zeroize, Zeroizing};

use super::{Cost, Passphrase, private, sealed};
use crate::{Error, chance};

/// The last entry that the key signed: its place and payload.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Place {
    /// Its place.
    pub seq: Seq,
    /// Its payload.
    pub payload: PayloadHash,
}

/// The organisation key, opened.
#[derive(Debug)]
pub struct OrganisationKey {
    key: SecretKey,
    secret: Zeroizing<[u8; 32]>,
    last: Option<Place>,
}

/// What is sealed.
#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Inside {
    secret: [u8; 32],
    last: Option<(u64, [u8; 32])>,
}

impl Drop for Inside {
    fn drop(&mut self) {
        self.secret.zeroize();
    }
}

impl OrganisationKey {
    /// Makes a new key.
    ///
    /// # Errors
    ///
    /// [`Error::NoChance`].
    pub fn make() -> Result<OrganisationKey, Error> {
        Ok(OrganisationKey::of(Zeroizing::new(chance::bytes()?), None))
    }

    fn of(secret: Zeroizing<[u8; 32]>, last: Option<Place>) -> OrganisationKey {
        let key = SecretKey::take(&mut secret.clone());
        OrganisationKey { key, secret, last }
    }

    /// Returns the public key.
    #[must_use]
    pub fn public(&self) -> &PublicKey {
        self.key.public()
    }

    /// Returns the last entry that it signed, as far as this file knows.
    #[must_use]
    pub fn last(&self) -> Option<Place> {
        self.last
    }

    /// Takes note of an entry of its log that another copy of the file signed, so that the next one stands behind it.
    pub fn saw(&mut self, entry: EntryId) {
        if entry.log == self.public().log() && self.last.is_none_or(|last| last.seq < entry.seq) {
            self.last = Some(Place { seq: entry.seq, payload: entry.payload });
        }
    }

    /// Signs the next entry of the organisation's log. The file is to be kept anew before the entry is used.
    ///
    /// # Errors
    ///
    /// As [`record::seal`].
    pub fn sign(&mut self, kind: Kind, version: u32, claimed: Claimed, body: &[u8]) -> Result<Sealed, Error> {
        let link = match self.last {
            None => Link::First,
            Some(Place { seq, payload }) => Link::After { seq, payload },
        };
        let new = NewEntry { link, kind, body_version: version, claimed, boot: None };
        let entry = seal(&new, body, &self.key)?;
        self.last = Some(Place { seq: entry.id.seq, payload: entry.id.payload });
        Ok(entry)
    }

    /// Returns the sealed file.
    ///
    /// # Errors
    ///
    /// When there is no chance, or the cost is none.
    pub fn sealed(&self, passphrase: &Passphrase, cost: Cost) -> Result<Vec<u8>, Error> {
        let inside = Inside {
            secret: *self.secret,
            last: self.last.map(|Place { seq, payload }| (seq.get(), payload.0)),
        };
        let bytes =
            Zeroizing::new(serde_json::to_vec(&inside).map_err(|error| other_form(&error.to_string()))?);
        let LogId(log) = self.public().log();
        let name: String = log.iter().map(|byte| format!("{byte:02x}")).collect();
        sealed::seal(&format!("organisation key {name}"), &bytes, passphrase, cost)
    }

    /// Opens a sealed file.
    ///
    /// # Errors
    ///
    /// [`Error::WrongPassphrase`], or what is wrong with the file.
    pub fn open(file: &[u8], passphrase: &Passphrase) -> Result<OrganisationKey, Error> {
        let bytes = sealed::open(file, passphrase)?;
        let inside: Inside =
            serde_json::from_slice(&bytes).map_err(|_| other_form("what is inside is no key"))?;
        let last = match inside.last {
            None => None,
            Some((seq, payload)) => Some(Place {
                seq: Seq::new(seq).ok_or_else(|| other_form("it holds no place of a log"))?,
                payload: PayloadHash(payload),
            }),
        };
        Ok(OrganisationKey::of(Zeroizing::new(inside.secret), last))
    }
}

/// A sealed file on disk.
#[derive(Debug)]
pub struct OrganisationFile(PathBuf);

impl OrganisationFile {
    /// Names a file.
    #[must_use]
    pub fn at(path: &Path) -> OrganisationFile {
        OrganisationFile(path.to_owned())
    }

    /// Opens it.
    ///
    /// # Errors
    ///
    /// When it cannot be read, and as [`OrganisationKey::open`].
    pub fn open(&self, passphrase: &Passphrase) -> Result<OrganisationKey, Error> {
        let file = std::fs::read(&self.0).map_err(Error::file(&self.0, "read"))?;
        OrganisationKey::open(&file, passphrase)
    }

    /// Keeps it, in the place of what was there.
    ///
    /// # Errors
    ///
    /// When it cannot be written; what was there is then still there.
    pub fn keep(&self, key: &OrganisationKey, passphrase: &Passphrase, cost: Cost) -> Result<(), Error> {
        private::replace_private(&self.0, &key.sealed(passphrase, cost)?)
    }
}

fn other_form(why: &str) -> Error {
    Error::OtherForm { what: "The organisation key", why: why.into() }
}

#[cfg(test)]
mod tests {
    use super::*;

    const QUICK: Cost = Cost { memory: 64, passes: 1 };
    const NOW: Claimed = Claimed { millis: 1_795_600_000_000, offset_minutes: 0 };

    fn phrase() -> Passphrase {
        Passphrase::typed("sluice copper lantern".into())
    }

    #[test]
    fn what_it_signs_chains_across_openings() {
        let here = tempfile::tempdir().unwrap();
        let file = OrganisationFile::at(&here.path().join("organisation.key"));
        let mut key = OrganisationKey::make().unwrap();
        let first = key.sign(Kind(7), 1, NOW, b"\xa0").unwrap();
        file.keep(&key, &phrase(), QUICK).unwrap();
        let mut again = file.open(&phrase()).unwrap();
        let second = again.sign(Kind(7), 1, NOW, b"\xa0").unwrap();
        let [first, second] = [&first, &second].map(|entry| record::open(&entry.bytes).unwrap());
        record::verify(&second, key.public()).unwrap();
        assert_eq!(record::follows(&first, &second), Ok(None));
    }

    #[test]
    fn an_older_copy_of_the_file_continues_behind_what_it_is_shown() {
        let mut key = OrganisationKey::make().unwrap();
        let mut older = OrganisationKey::open(&key.sealed(&phrase(), QUICK).unwrap(), &phrase()).unwrap();
        let first = key.sign(Kind(7), 1, NOW, b"\xa0").unwrap();
        older.saw(first.id);
        assert_eq!(older.sign(Kind(7), 1, NOW, b"\xa0").unwrap().id.seq.get(), 2);
    }
}
