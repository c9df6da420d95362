//! A key vouched for by another: a hub and the organisation's next key by the organisation, a device by a hub.

use std::collections::BTreeSet;

use record::{Kind, LogId, PublicKey};

use crate::body::{Body, body_methods};
use crate::codec::{Fields, Map, Written, bytes, text, word};
use crate::{Epoch, Error, PersonId, SpkiHash};

/// The kind of entry that holds a certificate.
pub const CERTIFICATE: Kind = Kind(7);

/// The version of the certificate's body that is written here.
pub const CERTIFICATE_VERSION: u32 = 1;

/// What a key is for. The words are frozen: none ever gets a second meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// It signs devices, receipts, reviews, revocations and pages.
    Hub,
    /// It signs what is done in the field.
    Device,
    /// It follows the organisation's key that signs this.
    Organisation,
}

const ROLES: [Role; 3] = [Role::Hub, Role::Device, Role::Organisation];

impl Role {
    /// Returns the word in the body.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Role::Hub => "hub",
            Role::Device => "device",
            Role::Organisation => "organisation",
        }
    }

    /// Returns what a word stands for.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Role> {
        ROLES.into_iter().find(|role| role.word() == word)
    }
}

/// What a key is certified as, with what belongs to that role alone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Certified {
    /// A hub.
    Hub {
        /// The keys its server may show on the network: the current one, and the next one ahead of time.
        tls: Vec<SpkiHash>,
        /// Its epoch.
        epoch: Epoch,
        /// The log that the same hub signed before; none for its first.
        replaces: Option<LogId>,
    },
    /// A device.
    Device {
        /// Whose it is.
        person: PersonId,
        /// The areas whose register it gets; empty for all. None of them is an empty text.
        areas: BTreeSet<String>,
    },
    /// The organisation's next key.
    Organisation,
}

impl Certified {
    /// Returns the role.
    #[must_use]
    pub fn role(&self) -> Role {
        match self {
            Certified::Hub { .. } => Role::Hub,
            Certified::Device { .. } => Role::Device,
            Certified::Organisation => Role::Organisation,
        }
    }
}

/// A certificate as it is signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Certificate {
    /// The key that is vouched for.
    pub key: PublicKey,
    /// What people call it. Not a person's name: that could never be erased.
    pub label: String,
    /// What it is certified as.
    pub certified: Certified,
}

impl Certificate {
    /// Returns the log that the key signs.
    #[must_use]
    pub fn log(&self) -> LogId {
        self.key.log()
    }

    /// Returns what the key is for.
    #[must_use]
    pub fn role(&self) -> Role {
        self.certified.role()
    }
}

mod key {
    pub(super) const ROLE: u64 = 1;
    pub(super) const KEY: u64 = 2;
    pub(super) const TLS: u64 = 3;
    pub(super) const EPOCH: u64 = 4;
    pub(super) const REPLACES: u64 = 5;
    pub(super) const PERSON: u64 = 6;
    pub(super) const LABEL: u64 = 7;
    pub(super) const AREAS: u64 = 8;
}

body_methods!(Certificate);

impl Body for Certificate {
    const KIND: Kind = CERTIFICATE;
    const VERSION: u32 = CERTIFICATE_VERSION;
    const NAME: &'static str = "certificate";
    const VERSIONED: &'static str = "certificate version";

    fn write(&self, map: &mut Map) -> Written {
        map.put(key::ROLE, |out| Ok(out.str(self.certified.role().word())?.ok()?))?;
        map.put(key::KEY, |out| Ok(out.bytes(self.key.cose())?.ok()?))?;
        map.texts(&[(key::LABEL, &self.label)])?;
        match &self.certified {
            Certified::Hub { tls, epoch, replaces } => {
                map.list(key::TLS, tls, |out, hash| Ok(out.bytes(&hash.0)?.ok()?))?;
                map.put(key::EPOCH, |out| Ok(out.bytes(&epoch.0)?.ok()?))?;
                map.some(key::REPLACES, replaces.as_ref(), |out, log| Ok(out.bytes(&log.0)?.ok()?))
            }
            Certified::Device { person, areas } => {
                map.put(key::PERSON, |out| person.write(out))?;
                map.list(key::AREAS, areas, |out, area| Ok(out.str(area)?.ok()?))
            }
            Certified::Organisation => Ok(()),
        }
    }

    fn read(map: &mut Fields<'_>, _: u32) -> Result<Certificate, Error> {
        let role = map.need(key::ROLE, |from| word(from, "certificate.role", Role::from_word))?;
        let cose = map.need(key::KEY, |from| from.bytes().map_err(|_| Error::at("certificate.key")))?;
        let certificate = Certificate {
            key: PublicKey::from_cose(cose).map_err(|_| Error::at("certificate.key"))?,
            label: map.text(key::LABEL)?,
            // Each role asks for its own fields only; another's are left and refused as fields nobody knows.
            certified: match role {
                Role::Hub => read_hub(map)?,
                Role::Device => read_device(map)?,
                Role::Organisation => Certified::Organisation,
            },
        };
        Ok(certificate)
    }

    fn check(&self) -> Result<(), &'static str> {
        match &self.certified {
            Certified::Device { areas, .. } if areas.contains("") => Err("certificate.areas"),
            Certified::Hub { replaces, .. } if *replaces == Some(self.key.log()) => {
                Err("certificate.replaces")
            }
            _ => Ok(()),
        }
    }
}

fn read_hub(map: &mut Fields<'_>) -> Result<Certified, Error> {
    let tls = map.list(key::TLS, "certificate.tls", |from| bytes(from, "certificate.tls"))?;
    Ok(Certified::Hub {
        tls: tls.into_iter().map(SpkiHash).collect(),
        epoch: Epoch(map.need(key::EPOCH, |from| bytes(from, "certificate.epoch"))?),
        replaces: map.some(key::REPLACES, |from| bytes(from, "certificate.replaces"))?.map(LogId),
    })
}

fn read_device(map: &mut Fields<'_>) -> Result<Certified, Error> {
    let areas = map.list(key::AREAS, "certificate.areas", |from| text(from, "certificate.areas"))?;
    Ok(Certified::Device {
        person: map.need(key::PERSON, |from| PersonId::read(from, "certificate.person"))?,
        areas: areas.into_iter().collect(),
    })
}
