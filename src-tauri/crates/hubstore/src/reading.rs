//! Reading the ledger to its end.

use crate::{Arrival, Error, Filter, Ledger, Limit, StoredEntry};

/// Reads entries in the order they came, a page at a time, up to the last there is.
#[derive(Debug, Clone)]
pub struct Reading {
    filter: Filter,
    upto: Arrival,
    over: bool,
}

impl Reading {
    /// Begins with the first entry.
    #[must_use]
    pub fn all(filter: Filter) -> Reading {
        Reading::after(Arrival::default(), filter)
    }

    /// Begins with the first entry that came after this number.
    #[must_use]
    pub fn after(upto: Arrival, filter: Filter) -> Reading {
        Reading { filter, upto, over: false }
    }

    /// Returns the number up to which everything has been read.
    #[must_use]
    pub fn upto(&self) -> Arrival {
        self.upto
    }

    /// Reads the next page; none after the last.
    ///
    /// # Errors
    ///
    /// What the store says. The same page may be asked for again.
    pub async fn next(&mut self, ledger: &impl Ledger) -> Result<Option<Vec<StoredEntry>>, Error> {
        if self.over {
            return Ok(None);
        }
        let news = ledger.since(self.upto, &self.filter, Limit::default()).await?;
        self.upto = news.upto;
        self.over = !news.more;
        Ok(Some(news.entries))
    }
}
