//! The port: what a phone keeps, as a session needs it.

use bodies::Epoch;
use record::{LogId, PublicKey, Seq};

use crate::have::HaveSet;
use crate::intake::Arrived;
use crate::message::{About, Cursor};
use crate::page::SignedPage;
use crate::run::Wanted;
use crate::trust::Trust;

/// An entry of the ledger.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Held {
    /// Its place.
    pub seq: Seq,
    /// All of it.
    pub bytes: Vec<u8>,
}

/// Where a phone stands with its hub.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Marks {
    /// The hub's epoch, as last heard.
    pub epoch: Option<Epoch>,
    /// The hub's number of the last news taken in this epoch.
    pub news: u64,
    /// The register feed, by area, in this epoch; an area with rows of an older epoch stands here with version 0.
    pub areas: Vec<Cursor>,
    /// Whether the hub is still to be told what is held of hub logs: since it began a new epoch, or since another phone
    /// brought some of them. It stays so until a session came to its end with it.
    pub give_back: bool,
}

/// What came from the hub, verified.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    /// The epoch it belongs to. Where it is new, the marks begin anew, what is held of hub logs is to be given back, and
    /// older receipts become history.
    pub epoch: Epoch,
    /// Keys of logs.
    pub keys: Vec<PublicKey>,
    /// Entries.
    pub entries: Vec<Arrived>,
    /// Pages of the register feed, in their order; one that does not follow the cursor is left out.
    pub pages: Vec<SignedPage>,
    /// The number of the last news; none where no news were asked for.
    pub news: Option<u64>,
    /// Whether what was held of hub logs has been given back.
    pub given_back: bool,
}

/// What came of taking it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Took {
    /// Entries that were not there before.
    pub entries: u32,
    /// Pages that were applied.
    pub pages: u32,
}

/// What a phone keeps, as a session needs it.
pub trait Ledger {
    /// What can go wrong.
    type Error: std::error::Error;

    /// Returns what is held of all logs but the hub's.
    fn have(&self) -> Result<HaveSet, Self::Error>;

    /// Returns what is held of the hub's logs and of the organisation's.
    fn have_of_hubs(&self) -> Result<HaveSet, Self::Error>;

    /// Returns the entries of a branch, lowest first: as many as `most` bytes hold, but at least one; none where the
    /// branch is not held.
    fn branch(&self, wanted: &Wanted, most: usize) -> Result<Vec<Held>, Self::Error>;

    /// Returns the key of a log.
    fn key(&self, log: LogId) -> Result<Option<PublicKey>, Self::Error>;

    /// Returns where this phone stands.
    fn marks(&self) -> Result<Marks, Self::Error>;

    /// Returns the logs whose receipts matter here, each with the newest receipts of this epoch, one of each grade.
    fn about(&self) -> Result<Vec<About>, Self::Error>;

    /// Returns what this phone once had and has no more, sorted: of logs that it wrote, and of others that it passed on. A
    /// hub is asked for it by its end, which only who held it knows.
    fn lacks(&self) -> Result<Vec<Wanted>, Self::Error>;

    /// Returns whom this phone trusts.
    fn trust(&self) -> Result<Trust, Self::Error>;

    /// Takes what came, all of it in one durable step.
    fn take(&self, taken: &Taken) -> Result<Took, Self::Error>;
}
