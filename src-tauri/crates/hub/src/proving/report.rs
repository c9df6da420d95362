//! What was found in a file, entry by entry.

use std::fmt;

use record::LogId;

use crate::names::hex;

/// One thing that fails.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failing {
    /// Which piece of the file, from 1.
    pub piece: usize,
    /// The entry, as far as it has a name.
    pub entry: String,
    /// What fails.
    pub what: String,
}

impl fmt::Display for Failing {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "Piece {}", self.piece)?;
        if !self.entry.is_empty() {
            write!(out, " ({})", self.entry)?;
        }
        write!(out, ": {}", self.what)
    }
}

/// What was found in a file.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Report {
    /// Entries whose signature and form hold.
    pub entries: usize,
    /// Logs that they are of.
    pub logs: usize,
    /// Register pages whose signature holds.
    pub pages: usize,
    /// Visits that were worked out again and came out the same.
    pub agree: usize,
    /// Visits of an older model, which are not worked out again here.
    pub other_model: usize,
    /// Visits of a model that is newer than this program's, or was made up: nothing here can check them.
    pub newer_model: usize,
    /// Places of logs that are not in the file. An export may be a selection: that is no fault.
    pub gaps: u64,
    /// The organisation by whose certificates the file shows whose keys signed, or that was expected; none where the file
    /// shows nothing of the kind.
    pub organisation: Option<LogId>,
    /// The logs for which that organisation does not vouch, and how many entries each has here.
    pub strangers: Vec<(LogId, usize)>,
    /// Entries of logs that were revoked, behind the last one that is trusted.
    pub after_revocation: usize,
    /// Logs with two branches, of which it was decided which one counts.
    pub decided_forks: usize,
    /// What fails.
    pub failing: Vec<Failing>,
}

impl Report {
    /// Returns whether nothing fails. What could not be checked is told apart: [`Report::is_checked`].
    #[must_use]
    pub fn holds(&self) -> bool {
        self.failing.is_empty()
    }

    /// Returns whether all was checked that a newer program could check, and somebody vouches for all keys where the file
    /// shows who does.
    #[must_use]
    pub fn is_checked(&self) -> bool {
        self.newer_model == 0 && (self.organisation.is_none() || self.strangers.is_empty())
    }

    /// Writes whose keys signed.
    fn signers(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.organisation {
            Some(organisation) => writeln!(
                out,
                "The certificates in it go back to the organisation {}. Compare that with what the organisation \
                 made known: anybody can make one of their own.",
                hex(&organisation.0)
            )?,
            None if self.strangers.is_empty() => {}
            None => writeln!(
                out,
                "WHOSE KEYS SIGNED IS NOT SHOWN: no certificates of one organisation are in the file. Compare the names \
                 of its logs with those that a hub lists:"
            )?,
        }
        for (log, records) in &self.strangers {
            let not = if self.organisation.is_some() { "NOT VOUCHED FOR: " } else { "" };
            writeln!(out, "{not}log {}, {records} records.", hex(&log.0))?;
        }
        if self.after_revocation > 0 {
            let count = self.after_revocation;
            writeln!(out, "{count} records count no more: their log was revoked before them.")?;
        }
        if self.decided_forks > 0 {
            let count = self.decided_forks;
            writeln!(out, "{count} logs are forked, and it was decided which branch counts.")?;
        }
        Ok(())
    }
}

impl fmt::Display for Report {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.failing.iter().try_for_each(|one| writeln!(out, "{one}"))?;
        let Report { entries, logs, pages, agree, other_model, newer_model, gaps, failing, .. } = self;
        writeln!(
            out,
            "{entries} records of {logs} logs and {pages} register pages hold: form, signature, chain."
        )?;
        writeln!(out, "{agree} visits were worked out again and agree to a millionth of their units.")?;
        if *other_model > 0 {
            writeln!(
                out,
                "{other_model} visits were worked out by an older model: their numbers are not checked here."
            )?;
        }
        if *newer_model > 0 {
            writeln!(
                out,
                "{newer_model} visits were made by a newer app: their numbers are NOT CHECKED. Update the hub, then verify again."
            )?;
        }
        if *gaps > 0 {
            writeln!(
                out,
                "{gaps} places of these logs are not in the file; a selection may leave them out."
            )?;
        }
        self.signers(out)?;
        match failing.len() {
            0 if !self.is_checked() => writeln!(out, "Nothing fails of what could be checked."),
            0 => writeln!(out, "Nothing fails."),
            1 => writeln!(out, "1 thing FAILS. Do not rely on it; ask for the file again."),
            more => writeln!(out, "{more} things FAIL. Do not rely on them; ask for the file again."),
        }
    }
}
