//! How far bundles have come that did not hold everything: the next one goes on from here.
//!
//! It says what was written to files, not what arrived: only receipts say that. Once a bundle has reached the end, the next
//! one begins anew.

use std::collections::BTreeMap;

use crate::{Error, LogId, Seq, Store, marks};

const CARRIED: &str = "bundle.carried";
/// The bytes of a log and of a place.
const ROW: usize = 40;

impl Store {
    /// Returns up to which place of each log bundles have come since one began at the start; empty where the next one
    /// begins there.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when that is not as it was written, and what storage gives.
    pub fn carried(&self) -> Result<BTreeMap<LogId, Seq>, Error> {
        let kept = self.read(|connection| marks::get(connection, CARRIED))?.unwrap_or_default();
        let rows = kept.as_chunks::<ROW>().0.iter();
        Ok(rows
            .filter_map(|row| {
                let (log, seq) = row.split_at_checked(32)?;
                let seq = u64::from_be_bytes(seq.try_into().ok()?);
                Some((LogId(log.try_into().ok()?), Seq(seq)))
            })
            .collect())
    }

    /// Keeps how far bundles have come.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives.
    pub fn keep_carried(&self, upto: &BTreeMap<LogId, Seq>) -> Result<(), Error> {
        let rows = upto.iter().flat_map(|(log, seq)| log.0.into_iter().chain(seq.0.to_be_bytes()));
        let value: Vec<u8> = rows.collect();
        self.write(|transaction| marks::put(transaction, CARRIED, &value))
    }
}
