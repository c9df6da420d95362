//! The seal of a row: what shows that its columns are what was written.
//!
//! SQLite's own check finds a broken tree of pages. It does not find a letter that turned inside a row, which
//! is what a worn storage cell does. The seal is no signature: who can write the file can write it too.

use sha2::{Digest, Sha256};

use crate::Error;

/// Collects the columns of a row, in their order.
pub(crate) struct Seal(Sha256);

impl Seal {
    /// Begins the seal of a row of this table, so that a row cannot pass in another one.
    pub(crate) fn of(table: &str) -> Seal {
        Seal(Sha256::new()).bytes(table.as_bytes())
    }

    /// Adds a column of bytes. Its length goes first, so that no two splits of the same bytes agree.
    pub(crate) fn bytes(mut self, bytes: &[u8]) -> Seal {
        self.0.update((bytes.len() as u64).to_be_bytes());
        self.0.update(bytes);
        self
    }

    /// Adds a column of text.
    pub(crate) fn text(self, text: &str) -> Seal {
        self.bytes(text.as_bytes())
    }

    /// Adds a column that holds a number.
    pub(crate) fn number(self, number: i64) -> Seal {
        self.bytes(&number.to_be_bytes())
    }

    /// Returns the seal: 16 bytes are plenty against chance.
    pub(crate) fn done(self) -> Vec<u8> {
        self.0.finalize().iter().take(16).copied().collect()
    }

    /// Compares with the seal that was stored; `what` names the row to a person.
    pub(crate) fn check(self, stored: &[u8], what: &str) -> Result<(), Error> {
        if self.done() == stored {
            return Ok(());
        }
        Err(Error::Unreadable { what: format!("{what} is not as it was written") })
    }
}
