//! The hub's own people, and the phones that are enrolled.

use std::future::Future;

use bodies::{HubRole, PersonId};
use record::LogId;

use crate::{Error, Version};

/// A person who signs in at the hub, or carries a phone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HubPerson {
    /// The random number that records name the person by.
    pub id: PersonId,
    /// The name, unique. It stands here only, where it can be erased.
    pub name: String,
    /// The argon2 hash of the password, as text; empty for one who cannot sign in.
    pub secret: String,
    /// What the person may do.
    pub role: HubRole,
}

/// An enrolled phone.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Device {
    /// Its log.
    pub log: LogId,
    /// What it is called.
    pub label: String,
    /// Who carries it.
    pub person: Option<PersonId>,
    /// The areas of the register that it gets; empty for all.
    pub areas: Vec<String>,
}

/// People and phones.
pub trait People {
    /// Writes a person down, in place of what stood under the id.
    fn put_person(&self, person: &HubPerson) -> impl Future<Output = Result<(), Error>> + Send;

    /// Returns the person of a name.
    fn person_named(&self, name: &str) -> impl Future<Output = Result<Option<HubPerson>, Error>> + Send;

    /// Returns all people, by name.
    fn persons(&self) -> impl Future<Output = Result<Vec<HubPerson>, Error>> + Send;

    /// Returns the number of the last change to people: written down, written down otherwise, or erased; 0 before any.
    fn people_version(&self) -> impl Future<Output = Result<Version, Error>> + Send;

    /// Erases a person. Records go on naming the id.
    fn drop_person(&self, id: PersonId) -> impl Future<Output = Result<bool, Error>> + Send;

    /// Writes a phone down, in place of what stood for its log.
    fn put_device(&self, device: &Device) -> impl Future<Output = Result<(), Error>> + Send;

    /// Returns the phone of a log.
    fn device(&self, log: LogId) -> impl Future<Output = Result<Option<Device>, Error>> + Send;

    /// Returns all phones, by log.
    fn devices(&self) -> impl Future<Output = Result<Vec<Device>, Error>> + Send;
}
