//! All that matters, out of one store and into another.

use std::future::Future;

use tokio::sync::mpsc::{Receiver, Sender};

use super::{Change, Cited, Device, Found, HubPerson, Identity, LogRow, StoredEntry};
use crate::{Arrival, Error, NewEntry};

/// One thing of a dump. Tokens, sessions, enrolments and counters are left out: they end with a restore.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Item {
    /// Which hub this was.
    Identity(Identity),
    /// A setting.
    Setting(String, Vec<u8>),
    /// A log.
    Log(LogRow),
    /// An entry, in the order of arrival.
    Entry(StoredEntry),
    /// An entry that waits, and who brought it.
    Parked([u8; 32], Box<NewEntry>),
    /// A change to the register, in the order of versions: its whole history.
    Change(Change),
    /// A person.
    Person(HubPerson),
    /// A phone.
    Device(Device),
    /// A photo that is cited, and whether it was whole.
    Photo(Cited, bool),
    /// What was found about a visit.
    Found(Arrival, Found),
}

/// Dump and restore.
pub trait Dump {
    /// Sends everything, as it stood at one moment. Ends early, without an error, when nobody listens any more.
    fn dump(&self, to: Sender<Item>) -> impl Future<Output = Result<(), Error>> + Send;

    /// Takes a dump into an empty store, in one transaction; arrival numbers and versions stay as they were. Returns
    /// how many entries there were. Fails with [`Error::NotEmpty`] when the store holds anything.
    fn restore(&self, from: Receiver<Item>) -> impl Future<Output = Result<u64, Error>> + Send;
}
