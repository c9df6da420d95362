//! What was found in a file, entry by entry.

use std::fmt;

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
    /// What fails.
    pub failing: Vec<Failing>,
}

impl Report {
    /// Returns whether nothing fails. What could not be checked is told apart: [`Report::is_checked`].
    #[must_use]
    pub fn holds(&self) -> bool {
        self.failing.is_empty()
    }

    /// Returns whether all was checked that a newer program could check.
    #[must_use]
    pub fn is_checked(&self) -> bool {
        self.newer_model == 0
    }
}

impl fmt::Display for Report {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.failing.iter().try_for_each(|one| writeln!(out, "{one}"))?;
        let Report { entries, logs, pages, agree, other_model, newer_model, gaps, failing } = self;
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
        match failing.len() {
            0 if *newer_model > 0 => writeln!(out, "Nothing fails of what could be checked."),
            0 => writeln!(out, "Nothing fails."),
            1 => writeln!(out, "1 thing FAILS. Do not rely on it; ask for the file again."),
            more => writeln!(out, "{more} things FAIL. Do not rely on them; ask for the file again."),
        }
    }
}
