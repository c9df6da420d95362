//! The steps by which the tables have grown, as in `sqlite::schema`: numbered, frozen, all that lack in one transaction.
//! Of several processes that start at once one upgrades, and the others wait for it.

use deadpool_postgres::{Object, Transaction};

use crate::Error;

/// The steps, oldest first.
const STEPS: &[&str] = &[
    include_str!("../../migrations/postgres/0001_first.sql"),
    include_str!("../../migrations/postgres/0002_confirmed.sql"),
];

/// The advisory lock of upgrading: "Hdhb".
const LOCK: i64 = 0x4864_6862;

/// Letters, digits and underscores, so that it needs no quoting.
pub(super) fn is_plain(name: &str) -> bool {
    let plain = |letter: char| letter.is_ascii_lowercase() || letter.is_ascii_digit() || letter == '_';
    name.starts_with(|first: char| first.is_ascii_lowercase()) && name.len() <= 60 && name.chars().all(plain)
}

/// Runs the steps that lack.
pub(super) async fn upgrade(client: &mut Object, schema: Option<&str>) -> Result<(), Error> {
    let transaction = client.transaction().await?;
    transaction.query_one("SELECT pg_advisory_xact_lock($1)", &[&LOCK]).await?;
    if let Some(schema) = schema {
        transaction.batch_execute(&format!("CREATE SCHEMA IF NOT EXISTS {schema}")).await?;
    }
    run(&transaction, STEPS).await?;
    Ok(transaction.commit().await?)
}

async fn run(transaction: &Transaction<'_>, steps: &[&str]) -> Result<(), Error> {
    // Frozen like the steps: this table is read before anything is known of the rest.
    let table = "CREATE TABLE IF NOT EXISTS headmark_format (step BIGINT PRIMARY KEY)";
    transaction.batch_execute(table).await?;
    let found = transaction.query_one("SELECT count(*) FROM headmark_format", &[]).await?;
    let found = u32::try_from(found.try_get::<_, i64>(0)?).map_err(Error::unreadable)?;
    let known = u32::try_from(steps.len()).map_err(Error::broken)?;
    if found > known {
        return Err(Error::Newer { found, known });
    }
    for (number, step) in (1_i64..).zip(steps).skip(found as usize) {
        transaction.batch_execute(step).await?;
        transaction.execute("INSERT INTO headmark_format (step) VALUES ($1)", &[&number]).await?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use sha2::{Digest, Sha256};

    use super::*;

    #[rstest]
    #[case::first(include_str!("../../migrations/postgres/0001_first.sql"), "eda9bceb3617f1b1acbabab056f8ae6f49803431d9bb05b395c8daed2b9d15af")]
    #[case::confirmed(include_str!("../../migrations/postgres/0002_confirmed.sql"), "cad4ee322fe7c0f55b6d4e323c440487942fbaacccd5ab5bf7fd641838b349b5")]
    fn a_step_that_hubs_have_run_never_changes(#[case] sql: &str, #[case] expected: &str) {
        let hash: String = Sha256::digest(sql).iter().map(|byte| format!("{byte:02x}")).collect();
        assert_eq!(hash, expected, "this file is frozen: say the change in a new numbered one");
    }

    #[test]
    fn every_step_has_its_hash_above() {
        assert_eq!(STEPS.len(), 2);
    }

    #[rstest]
    #[case("hub_2", true)]
    #[case("", false)]
    #[case("a b", false)]
    #[case("a; DROP TABLE entry", false)]
    #[case("2a", false)]
    fn only_a_plain_name_is_a_schemas(#[case] name: &str, #[case] plain: bool) {
        assert_eq!(is_plain(name), plain);
    }
}
