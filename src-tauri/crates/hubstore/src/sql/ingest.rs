//! Taking entries in: what has to be known is read, [`decide`] says what becomes of each, and that is written.

use std::collections::{BTreeMap, BTreeSet};

use exchange::run::{Run, Runs};
use record::{EntryId, LogId};

use super::entries::{ENTRY, PLACE, keep};
use super::{Column, Insert, Lookup, Sql, Value};
use crate::plan::{Facts, Plan, decide, keys_to_keep, places_to_look_up};
use crate::{Batch, Error, Ingested, NewEntry, NewLog, PARKED_BESIDE};

const LOG_STANDING: Lookup =
    Lookup { select: "log.log, log.standing", table: "log", keys: &[Column::Blob("log")] };

const RUNS: Lookup = Lookup {
    select: "run.log, run.from_seq, run.to_seq, run.end_hash, run.before, run.rooted",
    table: "run",
    keys: &[Column::Blob("log")],
};

const PARKED: Lookup = Lookup {
    select: "parked.log, parked.seq, parked.hash",
    table: "parked",
    keys: &[Column::Blob("log"), Column::Int("seq"), Column::Blob("hash")],
};

const PARK: Insert = Insert {
    table: "parked",
    columns: &[
        Column::Blob("log"),
        Column::Int("seq"),
        Column::Blob("hash"),
        Column::Blob("carrier"),
        Column::Int("size"),
        Column::Blob("bytes"),
    ],
    conflict: "",
};

const RUN: Insert = Insert {
    table: "run",
    columns: &[
        Column::Blob("log"),
        Column::Int("from_seq"),
        Column::Int("to_seq"),
        Column::Blob("end_hash"),
        Column::Blob("before"),
        Column::Int("rooted"),
    ],
    conflict: "",
};

const FORK: Insert = Insert {
    table: "fork",
    columns: &[Column::Blob("log"), Column::Int("seq")],
    conflict: "ON CONFLICT DO NOTHING",
};

/// Takes a batch in.
pub(super) fn ingest(sql: &mut dyn Sql, mut batch: Batch) -> Result<Ingested, Error> {
    // First of all: what is read from here on stays as it is until the commit.
    let newest = sql.lock("arrival")?;
    let adopted = vouch(sql, &batch.known)?;
    let mut facts = Facts { newest: crate::Arrival(newest), ..Facts::default() };
    read_logs(sql, &batch, &mut facts)?;
    let everything = batch.entries.iter().chain(&adopted);
    read_places(sql, everything, &mut facts)?;
    facts.adopted = adopted;
    let plan = decide(std::mem::take(&mut batch.entries), batch.parking, facts);
    keep_keys(sql, &keys_to_keep(&batch.keys, &plan))?;
    carry_out(sql, plan, &batch.carrier)
}

/// Makes logs known and takes out what was parked of them.
fn vouch(sql: &mut dyn Sql, known: &[NewLog]) -> Result<Vec<NewEntry>, Error> {
    let mut adopted = Vec::new();
    for new in known {
        let insert = "INSERT INTO log (log, key, standing, last_seq, last_hash) VALUES ($1, $2, 1, 0, $3) \
                      ON CONFLICT (log) DO UPDATE SET key = excluded.key, standing = 1 WHERE log.standing = 0";
        let none = Value::blob([]);
        if sql.run(insert, &[Value::blob(new.log.0), Value::blob(&new.key), none])? == 0 {
            continue;
        }
        let log = [Value::blob(new.log.0)];
        for mut row in sql.rows("SELECT bytes FROM parked WHERE log = $1 ORDER BY seq, hash", &log)? {
            adopted.push(NewEntry::kept(&row.blob()?)?);
        }
        sql.run("DELETE FROM parked WHERE log = $1", &log)?;
    }
    Ok(adopted)
}

fn keep_keys(sql: &mut dyn Sql, keys: &[&NewLog]) -> Result<(), Error> {
    for new in keys {
        let insert = "INSERT INTO log (log, key, standing, last_seq, last_hash) VALUES ($1, $2, 0, 0, $3) \
                      ON CONFLICT (log) DO NOTHING";
        sql.run(insert, &[Value::blob(new.log.0), Value::blob(&new.key), Value::blob([])])?;
    }
    Ok(())
}

fn read_logs(sql: &mut dyn Sql, batch: &Batch, facts: &mut Facts) -> Result<(), Error> {
    let logs = batch.logs();
    let keys: Vec<Vec<Value>> = logs.iter().map(|log| vec![Value::blob(log.0)]).collect();
    for mut row in sql.lookup(LOG_STANDING, &keys)? {
        let log = row.log()?;
        if row.int()? != 0 {
            facts.known.insert(log);
        }
    }
    facts.runs = runs(sql, &keys)?;
    let unknown: Vec<LogId> = logs.difference(&facts.known).copied().collect();
    if unknown.is_empty() {
        return Ok(());
    }
    for log in &unknown {
        let mut row = sql.one("SELECT count(*) FROM parked WHERE log = $1", &[Value::blob(log.0)])?;
        facts.parked_of_log.insert(*log, row.count()?);
    }
    let sum = "SELECT CAST(coalesce(sum(size), 0) AS BIGINT) FROM parked WHERE carrier = $1";
    facts.carried = sql.one(sum, &[Value::blob(batch.carrier)])?.count()?;
    let beside = i64::try_from(PARKED_BESIDE).unwrap_or(i64::MAX);
    let in_all = "SELECT CAST(coalesce(sum(size + $1), 0) AS BIGINT) FROM parked";
    facts.parked_in_all = sql.one(in_all, &[Value::Int(beside)])?.count()?;
    let of_unknown = batch.entries.iter().filter(|entry| unknown.contains(&entry.id.log));
    let ids: Vec<Vec<Value>> = of_unknown.map(|entry| Value::id(entry.id).to_vec()).collect();
    for mut row in sql.lookup(PARKED, &ids)? {
        facts.parked.insert(row.id()?);
    }
    Ok(())
}

/// Reads the runs of logs.
pub(super) fn runs(sql: &mut dyn Sql, keys: &[Vec<Value>]) -> Result<BTreeMap<LogId, Runs>, Error> {
    let mut by_log = BTreeMap::<LogId, Vec<Run>>::new();
    for mut row in sql.lookup(RUNS, keys)? {
        let log = row.log()?;
        let (from, to, end) = (row.seq()?, row.seq()?, row.hash()?);
        let (before, rooted) = (row.previous()?, row.flag()?);
        by_log.entry(log).or_default().push(Run { from, to, end, before, rooted });
    }
    Ok(by_log.into_iter().map(|(log, list)| (log, Runs::of(list))).collect())
}

fn read_places<'a>(
    sql: &mut dyn Sql,
    entries: impl Iterator<Item = &'a NewEntry>,
    facts: &mut Facts,
) -> Result<(), Error> {
    let places = places_to_look_up(&facts.runs, entries);
    let keys: Vec<Vec<Value>> =
        places.iter().map(|(log, seq)| vec![Value::blob(log.0), Value::seq(*seq)]).collect();
    for mut row in sql.lookup(PLACE, &keys)? {
        let EntryId { log, seq, payload } = row.id()?;
        facts.held.entry((log, seq)).or_default().insert(payload);
    }
    Ok(())
}

fn carry_out(sql: &mut dyn Sql, plan: Plan, carrier: &[u8; 32]) -> Result<Ingested, Error> {
    let parked: Vec<Vec<Value>> = plan.parked.iter().map(|entry| parked_row(carrier, entry)).collect();
    sql.insert(PARK, &parked)?;
    let forks: Vec<Vec<Value>> =
        plan.forked.iter().map(|(log, seq)| vec![Value::blob(log.0), Value::seq(*seq)]).collect();
    sql.insert(FORK, &forks)?;
    write_runs(sql, &plan.runs)?;
    if !plan.placed.is_empty() {
        keep(sql, plan.placed)?;
        sql.advance("arrival", plan.newest.0)?;
    }
    Ok(Ingested { outcomes: plan.outcomes, adopted: plan.adopted })
}

fn parked_row(carrier: &[u8; 32], entry: &NewEntry) -> Vec<Value> {
    let [log, seq, hash] = Value::id(entry.id);
    let size = Value::count(entry.bytes.len() as u64);
    vec![log, seq, hash, Value::blob(carrier), size, Value::blob(&entry.bytes)]
}

/// Parks an entry as a dump has it.
pub(super) fn park(sql: &mut dyn Sql, carrier: &[u8; 32], entry: &NewEntry) -> Result<(), Error> {
    sql.insert(PARK, &[parked_row(carrier, entry)])
}

fn write_runs(sql: &mut dyn Sql, runs: &BTreeMap<LogId, Runs>) -> Result<(), Error> {
    let mut rows = Vec::new();
    for (log, runs) in runs {
        sql.run("DELETE FROM run WHERE log = $1", &[Value::blob(log.0)])?;
        rows.extend(runs.all().iter().map(|run| {
            vec![
                Value::blob(log.0),
                Value::seq(run.from),
                Value::seq(run.to),
                Value::blob(run.end.0),
                Value::previous(run.before),
                Value::flag(run.rooted),
            ]
        }));
    }
    sql.insert(RUN, &rows)
}

/// Returns which of these entries are held.
pub(super) fn held(sql: &mut dyn Sql, ids: &[EntryId]) -> Result<BTreeSet<EntryId>, Error> {
    let lookup = Lookup { keys: ENTRY.keys, ..PLACE };
    let keys: Vec<Vec<Value>> = ids.iter().map(|id| Value::id(*id).to_vec()).collect();
    sql.lookup(lookup, &keys)?.into_iter().map(|mut row| row.id()).collect()
}
