//! The register: one row for each instrument, each change with a number, by area.

use std::future::Future;

use crate::{Error, Version};

/// A row as it is written.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Row {
    /// The instrument's tag.
    pub tag: String,
    /// The area that it is in.
    pub area: String,
    /// The row as `bodies::RegisterRow` writes it. Opaque here, and compared whole.
    pub bytes: Vec<u8>,
}

/// What is put into the register.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Rows {
    /// These rows; all others stay.
    Some(Vec<Row>),
    /// These rows are the whole register; all others are removed.
    All(Vec<Row>),
    /// The rows of these tags are removed.
    Remove(Vec<String>),
}

/// What came of it.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Put {
    /// Rows that were not there.
    pub added: u64,
    /// Rows that say something else now, in the same area.
    pub changed: u64,
    /// Rows that went to another area.
    pub moved: u64,
    /// Rows that are gone.
    pub removed: u64,
    /// Rows that were just so.
    pub same: u64,
    /// The newest number of a change.
    pub version: Version,
}

impl Put {
    /// Returns the number of the newest change before: each row took one, and one that went to another area two.
    #[must_use]
    pub fn before(&self) -> Version {
        let taken = self.added + self.changed + 2 * self.moved + self.removed;
        Version(self.version.0.saturating_sub(taken))
    }
}

/// The newest change to a tag within an area.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// Its number.
    pub version: Version,
    /// The area.
    pub area: String,
    /// The tag.
    pub tag: String,
    /// The row; none where it is gone from the area.
    pub row: Option<Vec<u8>>,
}

/// The register. It has one writer, the hub; phones read it by area, from a number on.
pub trait Register {
    /// Puts rows in. What stands the same is left alone; each change takes the next number; a move between areas is a
    /// removal in the one and the whole row in the other, in the same transaction. A tag given twice counts once, by
    /// its last row.
    fn put_rows(&self, rows: Rows) -> impl Future<Output = Result<Put, Error>> + Send;

    /// Returns what putting rows in would come to, as the register stands now, and changes nothing.
    fn would_put(&self, rows: &Rows) -> impl Future<Output = Result<Put, Error>> + Send;

    /// Returns up to `most` changes of an area after a number, in their order. Of a tag only the newest is told.
    fn changes(
        &self,
        area: &str,
        after: Version,
        most: u32,
    ) -> impl Future<Output = Result<Vec<Change>, Error>> + Send;

    /// Returns the areas, each with the number of its newest change.
    fn areas(&self) -> impl Future<Output = Result<Vec<(String, Version)>, Error>> + Send;

    /// Returns the row of a tag.
    fn row(&self, tag: &str) -> impl Future<Output = Result<Option<Row>, Error>> + Send;

    /// Returns up to `most` rows by their tags, after one.
    fn rows(&self, after: &str, most: u32) -> impl Future<Output = Result<Vec<Row>, Error>> + Send;

    /// Returns all that ever stood under a tag, oldest first.
    fn history(&self, tag: &str) -> impl Future<Output = Result<Vec<Change>, Error>> + Send;
}
