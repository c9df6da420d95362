//! What was proposed to the register: a view of the log, so that nobody has to go through all of it.

use bodies::Proposal;
use rusqlite::{Connection, params};

use crate::seal::Seal;
use crate::{Arrival, Error, Store, log};

/// A proposal that this phone signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnProposal {
    /// The entry's identity.
    pub id: record::EntryId,
    /// What is proposed.
    pub proposal: Proposal,
}

impl Store {
    /// Returns what this phone proposed, oldest first.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when one is not as it was written, and what storage gives.
    pub fn own_proposals(&self) -> Result<Vec<OwnProposal>, Error> {
        self.read(|connection| {
            let columns = log::COLUMNS.replace(", ", ", entry.").replace("arrival", "entry.arrival");
            let mut statement = connection.prepare_cached(&format!(
                "SELECT {columns}, proposal.seal FROM proposal \
                 JOIN entry ON entry.arrival = proposal.arrival \
                 WHERE entry.log IN (SELECT log FROM identity) ORDER BY proposal.arrival"
            ))?;
            let rows = statement.query_map([], |row| Ok((log::raw(row)?, row.get::<_, Vec<u8>>(8)?)))?;
            rows.map(|row| {
                let (raw, stored) = row?;
                let kept = raw.proved()?;
                seal(kept.arrival).check(&stored, WHAT)?;
                let entry = record::open(&kept.entry.bytes).map_err(|_| unreadable())?;
                let proposal = Proposal::of_entry(&entry).map_err(|_| unreadable())?;
                Ok(OwnProposal { id: entry.id, proposal })
            })
            .collect()
        })
    }
}

const WHAT: &str = "a proposal to the register";

/// Puts a proposal into the view.
pub(crate) fn put(connection: &Connection, arrival: Arrival) -> Result<(), Error> {
    connection
        .prepare_cached("INSERT INTO proposal (arrival, seal) VALUES (?1, ?2)")?
        .execute(params![arrival.0, seal(arrival).done()])?;
    Ok(())
}

fn seal(arrival: Arrival) -> Seal {
    Seal::of("proposal").number(arrival.0)
}

fn unreadable() -> Error {
    Error::Unreadable { what: format!("{WHAT} is not as it was written") }
}
