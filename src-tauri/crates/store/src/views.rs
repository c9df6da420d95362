//! The views of the log: what an entry means for the tables that are looked things up in.
//!
//! Each view is a pure function of the entries, taken up in the transaction that adds one, and can be made anew.
//! What a newer program wrote, or what is no record at all, stands in the log and in no view.

use bodies::{OBSERVATION, Observation, PROPOSAL, Proposal, RECEIPT, Receipt, VISIT, Visit};
use rusqlite::Connection;

use crate::{Arrival, Error, NewEntry, Store, log, photos, proposals, receipts, runs};

impl Store {
    /// Makes all views anew from the log, but the list of signed visits, which [`Store::rebuild_signed`] makes.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when an entry is not as it was written, and what storage gives; the old views then stay.
    pub fn rebuild(&self) -> Result<(), Error> {
        self.write(|transaction| rebuild(transaction))
    }
}

/// Makes all views anew within a transaction.
pub(crate) fn rebuild(connection: &Connection) -> Result<(), Error> {
    for table in TABLES {
        connection.execute(&format!("DELETE FROM {table}"), [])?;
    }
    runs::rebuild(connection)?;
    log::each(connection, |kept| take_up(connection, &kept.entry, kept.arrival))
}

/// The views that are filled here.
const TABLES: [&str; 6] = ["proposal", "receipt", "receipt_run", "receipt_photo", "photo_cite", "visit_cite"];

/// Takes an entry into the views that it belongs in.
pub(crate) fn take_up(connection: &Connection, entry: &NewEntry, arrival: Arrival) -> Result<(), Error> {
    let Ok(opened) = record::open(&entry.bytes) else { return Ok(()) };
    // What cannot be read here may be read by a later version, which makes its views anew.
    match opened.header.kind {
        PROPOSAL => Proposal::of_entry(&opened).map_or(Ok(()), |_| proposals::put(connection, arrival)),
        OBSERVATION => Observation::of_entry(&opened)
            .map_or(Ok(()), |observation| photos::observation(connection, &observation, arrival)),
        VISIT => Visit::of_entry(&opened).map_or(Ok(()), |visit| photos::visit(connection, &visit, arrival)),
        RECEIPT => Receipt::of_entry(&opened)
            .map_or(Ok(()), |receipt| receipts::put(connection, entry.place, entry.hash, &receipt)),
        _ => Ok(()),
    }
}
