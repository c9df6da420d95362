//! Names of records and logs, as they stand in what was asked.

use record::{EntryId, LogId};

use super::Problem;
use crate::names::{read_entry_name, unhex};

/// Reads an entry's name.
pub(super) fn read_entry(text: &str) -> Result<EntryId, Problem> {
    read_entry_name(text)
        .ok_or_else(|| Problem::bad("This is no name of a record. Take it from a list of records."))
}

/// Reads a log's name.
pub(super) fn read_log(text: &str) -> Result<LogId, Problem> {
    unhex(text)
        .map(LogId)
        .ok_or_else(|| Problem::bad("This is no name of a log: 64 small hexadecimal digits."))
}
