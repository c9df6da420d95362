//! The steps by which the file's format has grown.
//!
//! Each step is a numbered file, frozen once a phone may have run it: a changed step would leave two phones
//! with one number and two formats. A test holds the hashes. All steps that a file lacks run in one
//! transaction, so a file is never between two formats. Steps only go forward, and none drops or reuses a
//! column that an earlier version reads.

use rusqlite::{Connection, Transaction};
use rusqlite_migration::{HookError, HookResult, M, Migrations};

use crate::{Error, backfill};

/// What marks a file as ours (SQLite's `application_id`): "Hdmk".
pub(crate) const APPLICATION: i32 = 0x4864_6d6b;

/// How many steps there are: the newest format known here.
const NEWEST: u32 = 2;

/// The steps, oldest first. A file's format is how many of them it has run.
fn steps() -> [M<'static>; NEWEST as usize] {
    [
        M::up(include_str!("../migrations/0001_first.sql")),
        M::up_with_hook(include_str!("../migrations/0002_many_logs.sql"), many_logs),
    ]
}

/// What the second step's text cannot say: the views of what is there already.
fn many_logs(transaction: &Transaction<'_>) -> HookResult {
    backfill::many_logs(transaction).map_err(|error| HookError::Hook(error.to_string()))
}

/// Returns the newest format known here.
pub(crate) fn newest() -> u32 {
    NEWEST
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

/// Reads what a file says of itself, touching nothing. The two numbers stand in the file's header and are read
/// first: a newer file may describe its tables in a way that cannot be read here.
pub(crate) fn format(connection: &Connection) -> Result<Format, Error> {
    let number = |name| connection.pragma_query_value(None, name, |row| row.get::<_, i32>(0));
    match (number("application_id")?, u32::try_from(number("user_version")?)) {
        (APPLICATION, Ok(version)) if version > 0 => Ok(Format::Ours(version)),
        (0, Ok(0)) if is_empty(connection)? => Ok(Format::Empty),
        _ => Ok(Format::Foreign),
    }
}

fn is_empty(connection: &Connection) -> Result<bool, Error> {
    Ok(connection.query_row("SELECT count(*) = 0 FROM sqlite_schema", [], |row| row.get(0))?)
}

/// Runs the steps that the file lacks, all in one transaction.
pub(crate) fn upgrade(connection: &mut Connection) -> Result<(), Error> {
    run(&steps(), connection)
}

fn run(steps: &[M<'_>], connection: &mut Connection) -> Result<(), Error> {
    use rusqlite_migration::Error as Failed;
    Migrations::from_slice(steps).to_latest(connection).map_err(|failed| match failed {
        Failed::RusqliteError { err, .. } => Error::from(err),
        // A row that is not as it was written: the file is damaged, and is salvaged like any other.
        Failed::Hook(what) => Error::Unreadable { what },
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
    #[case::many_logs(include_str!("../migrations/0002_many_logs.sql"), "8b685ecbe2739b728410574faf039bf7c5e51c00d27edfef8472846bde1ab6dd")]
    fn a_step_that_phones_have_run_never_changes(#[case] sql: &str, #[case] expected: &str) {
        let hash: String = Sha256::digest(sql).iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(hash, expected, "this file is frozen: say the change in a new numbered one");
    }

    #[test]
    fn every_step_has_its_hash_above() {
        assert_eq!(newest(), 2);
    }

    #[test]
    fn a_step_that_fails_takes_all_steps_of_the_upgrade_back() {
        let mut connection = Connection::open_in_memory().unwrap();
        upgrade(&mut connection).unwrap();
        connection.execute("INSERT INTO draft (id) VALUES ('a')", []).unwrap();
        let mut steps = steps().to_vec();
        steps.push(M::up("CREATE TABLE more (one TEXT NOT NULL DEFAULT '') STRICT; DELETE FROM draft;"));
        steps.push(M::up("INSERT INTO nowhere (one) VALUES ('')"));
        assert!(run(&steps, &mut connection).is_err());
        assert!(matches!(format(&connection).unwrap(), Format::Ours(2)));
        let left: u32 = connection
            .query_row(
                "SELECT (SELECT count(*) FROM draft) + count(*) FROM sqlite_schema WHERE name = 'more'",
                [],
                |row| row.get(0),
            )
            .unwrap();
        assert_eq!(left, 1, "the draft is there and the new table is not");
        steps.pop();
        run(&steps, &mut connection).unwrap();
        assert!(matches!(format(&connection).unwrap(), Format::Ours(3)));
    }

    #[test]
    fn the_steps_run_on_an_empty_file() {
        Migrations::from_slice(&steps()).validate().unwrap();
    }
}
