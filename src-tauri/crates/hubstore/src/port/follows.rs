//! What follows from an entry that the hub signs, in the step in which the entry is appended.

use record::LogId;

use super::{HubPerson, Put, Row, Rows, Standing};

/// What follows. A cut leaves the entry and all of this, or neither; where something of it does not stand as the caller
/// read it, nothing is done, and the caller reads again.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Follows {
    /// Rows of the register that say something else from now on.
    pub rows: Vec<Changed<Row>>,
    /// Rows that are put into the register.
    pub import: Option<Putting>,
    /// People who are written down, written down otherwise, or erased. The sign-ins end of one who is erased or has
    /// another password or none.
    pub people: Vec<Changed<Option<HubPerson>>>,
    /// Settings that are set, set otherwise, or removed.
    pub settings: Vec<(String, Changed<Option<Vec<u8>>>)>,
    /// Logs that stand otherwise from now on. All open sessions of theirs end.
    pub standings: Vec<(LogId, Standing)>,
}

/// Something that is to be changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Changed<T> {
    /// As it was read.
    pub was: T,
    /// As it is to stand.
    pub is: T,
}

/// Rows that are to be put into the register.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Putting {
    /// The rows.
    pub rows: Rows,
    /// What that comes to, by [`Register::would_put`](super::Register::would_put).
    pub put: Put,
}
