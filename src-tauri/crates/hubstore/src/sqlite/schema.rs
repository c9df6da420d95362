//! The steps by which the file's format has grown.
//!
//! Each step is a numbered file, frozen once a hub may have run it; a test holds the hashes. All steps that a file lacks
//! run in one transaction. A newer file is refused and left as it is.

use rusqlite::Connection;
use rusqlite_migration::{M, Migrations};

use crate::Error;

/// What marks a file as a hub's (SQLite's `application_id`): "Hdhb".
const APPLICATION: i32 = 0x4864_6862;

/// The steps, oldest first. A file's format is how many of them it has run.
const STEPS: &[M<'_>] = &[
    M::up(include_str!("../../migrations/sqlite/0001_first.sql")),
    M::up(include_str!("../../migrations/sqlite/0002_confirmed.sql")),
];

/// Refuses a file that is newer or of something else; nothing is written.
pub(super) fn check(connection: &Connection) -> Result<(), Error> {
    let number = |name| connection.pragma_query_value(None, name, |row| row.get::<_, i32>(0));
    let (application, version) = (number("application_id")?, number("user_version")?);
    let known = u32::try_from(STEPS.len()).unwrap_or(u32::MAX);
    match (application, u32::try_from(version)) {
        (APPLICATION, Ok(found)) if found > known => Err(Error::Newer { found, known }),
        (APPLICATION, Ok(_)) => Ok(()),
        (0, Ok(0)) if is_empty(connection)? => Ok(()),
        _ => Err(Error::Foreign { what: format!("its mark is {application:#x}") }),
    }
}

fn is_empty(connection: &Connection) -> Result<bool, Error> {
    Ok(connection.query_row("SELECT count(*) = 0 FROM sqlite_schema", [], |row| row.get(0))?)
}

/// Runs the steps that the file lacks.
pub(super) fn upgrade(connection: &mut Connection) -> Result<(), Error> {
    use rusqlite_migration::Error as Failed;
    Migrations::from_slice(STEPS).to_latest(connection).map_err(|failed| match failed {
        Failed::RusqliteError { err, .. } => Error::from(err),
        other => Error::broken(other),
    })
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use sha2::{Digest, Sha256};

    use super::*;

    #[rstest]
    #[case::first(include_str!("../../migrations/sqlite/0001_first.sql"), "3b3df50313f48b348d0228eaf80291b820c33a80fde51043a6e06e5e1a3e48dc")]
    #[case::confirmed(include_str!("../../migrations/sqlite/0002_confirmed.sql"), "1359e2470c2f6680d5ca59e5ed05bf52f22c00ef7d78174c5b035938031bf165")]
    fn a_step_that_hubs_have_run_never_changes(#[case] sql: &str, #[case] expected: &str) {
        let hash: String = Sha256::digest(sql).iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(hash, expected, "this file is frozen: say the change in a new numbered one");
    }

    #[test]
    fn every_step_has_its_hash_above_and_runs_on_an_empty_file() {
        assert_eq!(STEPS.len(), 2);
        Migrations::from_slice(STEPS).validate().unwrap();
    }

    #[test]
    fn visits_that_came_before_say_how_who_signed_was_confirmed() {
        let mut connection = Connection::open_in_memory().unwrap();
        Migrations::from_slice(&STEPS[..1]).to_latest(&mut connection).unwrap();
        let words = [&b"\x63pin"[..], b"\x64none", b"\x68unlocked"];
        for (arrival, word) in (1_i64..).zip(words) {
            let technician = [0xf0 + u8::try_from(arrival).unwrap(); 16];
            let bytes = [b"before\x82\x50", &technician[..], word, b"behind"].concat();
            let entry = "INSERT INTO entry (arrival, log, seq, hash, bytes) VALUES (?1, ?2, ?1, ?2, ?3)";
            connection.execute(entry, rusqlite::params![arrival, [0_u8; 32], bytes]).unwrap();
            let visit = "INSERT INTO visit (arrival, technician) VALUES (?1, ?2)";
            connection.execute(visit, rusqlite::params![arrival, technician]).unwrap();
        }
        upgrade(&mut connection).unwrap();
        let mut rows = connection.prepare("SELECT confirmed FROM visit ORDER BY arrival").unwrap();
        let found: Vec<String> = rows.query_map([], |row| row.get(0)).unwrap().map(Result::unwrap).collect();
        assert_eq!(found, ["pin", "none", "unlocked"]);
    }

    #[test]
    fn a_newer_file_and_another_programs_are_refused() {
        let mut connection = Connection::open_in_memory().unwrap();
        upgrade(&mut connection).unwrap();
        check(&connection).unwrap();
        connection.pragma_update(None, "user_version", 3).unwrap();
        assert_eq!(check(&connection), Err(Error::Newer { found: 3, known: 2 }));
        let other = Connection::open_in_memory().unwrap();
        other.execute_batch("CREATE TABLE mine (one INTEGER)").unwrap();
        assert!(matches!(check(&other), Err(Error::Foreign { .. })));
    }
}
