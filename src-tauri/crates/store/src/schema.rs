//! The steps by which the file's format has grown.
//!
//! Each step is a numbered file, frozen once a phone may have run it: a changed step would leave two phones
//! with one number and two formats. A test holds the hashes. All steps that a file lacks run in one
//! transaction, so a file is never between two formats. Steps only go forward, and none drops or reuses a
//! column that an earlier version reads.

use rusqlite::Connection;
use rusqlite_migration::{M, Migrations};

use crate::Error;

/// What marks a file as ours (SQLite's `application_id`): "Hdmk".
pub(crate) const APPLICATION: i32 = 0x4864_6d6b;

/// The steps, oldest first. A file's format is how many of them it has run.
const STEPS: &[M<'_>] = &[M::up(include_str!("../migrations/0001_first.sql"))];

/// Returns the newest format known here.
pub(crate) fn newest() -> u32 {
    u32::try_from(STEPS.len()).unwrap_or(u32::MAX)
}

/// What a file says of itself.
pub(crate) enum Format {
    /// Nothing in it yet.
    Empty,
    /// Ours, with this format.
    Ours(u32),
    /// A database of something else.
    Foreign,
}

/// Reads what a file says of itself, touching nothing.
pub(crate) fn format(connection: &Connection) -> Result<Format, Error> {
    let pragma = |name| connection.pragma_query_value(None, name, |row| row.get::<_, i32>(0));
    let (application, version) = (pragma("application_id")?, pragma("user_version")?);
    let things: u32 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    Ok(match (application, u32::try_from(version)) {
        (0, Ok(0)) if things == 0 => Format::Empty,
        (APPLICATION, Ok(version)) if version > 0 => Format::Ours(version),
        _ => Format::Foreign,
    })
}

/// Runs the steps that the file lacks, all in one transaction.
pub(crate) fn upgrade(connection: &mut Connection) -> Result<(), Error> {
    use rusqlite_migration::Error as Failed;
    Migrations::from_slice(STEPS).to_latest(connection).map_err(|failed| match failed {
        Failed::RusqliteError { err, .. } => Error::from(err),
        other => Error::Broken { what: other.to_string() },
    })
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use sha2::{Digest, Sha256};

    use super::*;

    #[rstest]
    #[case::first(include_str!("../migrations/0001_first.sql"), "edbc5a3d376a42c7016f58f2b2650aa0278614838df2f721c6853f1a643e539d")]
    fn a_step_that_phones_have_run_never_changes(#[case] sql: &str, #[case] expected: &str) {
        let hash: String = Sha256::digest(sql).iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(hash, expected, "this file is frozen: say the change in a new numbered one");
    }

    #[test]
    fn every_step_has_its_hash_above() {
        assert_eq!(newest(), 1);
    }

    #[test]
    fn the_steps_run_on_an_empty_file() {
        Migrations::from_slice(STEPS).validate().unwrap();
    }
}
