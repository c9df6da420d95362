//! Everything, in again: into an empty store, in one transaction.

use tokio::sync::mpsc::Receiver;

use super::entries::photo_row;
use super::ingest::{ingest, park};
use super::jobs::finish;
use super::logs::standing_values;
use super::meta::{put_identity, put_setting};
use super::people::{put_device, put_person};
use super::register::write;
use super::{Sql, Value};
use crate::{Arrival, Batch, Cited, Error, Item, LogRow, NewEntry, StoredEntry};

/// How many entries go in at once.
const CHUNK: usize = 500;

/// Takes a dump in.
pub(super) fn restore(sql: &mut dyn Sql, mut from: Receiver<Item>) -> Result<u64, Error> {
    let newest = sql.lock("arrival")?;
    let others = "SELECT (SELECT count(*) FROM hub) + (SELECT count(*) FROM log) + \
                  (SELECT count(*) FROM register_change)";
    if newest > 0 || sql.one(others, &[])?.count()? > 0 {
        return Err(Error::NotEmpty);
    }
    let mut waiting = Vec::new();
    let mut newest = Arrival::default();
    while let Some(item) = from.blocking_recv() {
        match item {
            Item::Entry(entry) => {
                waiting.push(next(&mut newest, &entry)?);
                if waiting.len() >= CHUNK {
                    ingest(sql, Batch::of_known(std::mem::take(&mut waiting)))?;
                }
            }
            other => {
                ingest(sql, Batch::of_known(std::mem::take(&mut waiting)))?;
                take_in(sql, other)?;
            }
        }
    }
    ingest(sql, Batch::of_known(waiting))?;
    let kept = sql.lock("arrival")?;
    if kept == newest.0 { Ok(kept) } else { Err(Error::unreadable("the dump names one entry twice")) }
}

fn next(newest: &mut Arrival, entry: &StoredEntry) -> Result<NewEntry, Error> {
    *newest = Arrival(newest.0 + 1);
    if *newest != entry.arrival {
        return Err(Error::unreadable(format!("entry number {} is out of order", entry.arrival.0)));
    }
    NewEntry::kept(&entry.bytes)
}

fn take_in(sql: &mut dyn Sql, item: Item) -> Result<(), Error> {
    match item {
        Item::Identity(identity) => put_identity(sql, &identity),
        Item::Setting(name, value) => put_setting(sql, &name, &value),
        Item::Log(row) => put_log(sql, &row),
        // Entries go in by chunks; see above.
        Item::Entry(entry) => ingest(sql, Batch::of_known(vec![NewEntry::kept(&entry.bytes)?])).map(drop),
        Item::Parked(carrier, entry) => park(sql, &carrier, &entry),
        Item::Change(change) => {
            sql.advance("version", change.version.0)?;
            write(sql, &[change])
        }
        Item::Person(person) => put_person(sql, &person),
        Item::Device(device) => put_device(sql, &device),
        Item::Photo(cited, whole) => put_photo(sql, &cited, whole),
        Item::Found(arrival, found) => finish(sql, vec![(arrival, found)]),
    }
}

fn put_log(sql: &mut dyn Sql, row: &LogRow) -> Result<(), Error> {
    let [standing, seq, hash] = standing_values(row.standing);
    let insert = "INSERT INTO log (log, key, standing, last_seq, last_hash) VALUES ($1, $2, $3, $4, $5)";
    sql.run(insert, &[Value::blob(row.log.0), Value::blob(&row.key), standing, seq, hash]).map(drop)
}

fn put_photo(sql: &mut dyn Sql, cited: &Cited, whole: bool) -> Result<(), Error> {
    let insert = "INSERT INTO photo (hash, length, media, whole) VALUES ($1, $2, $3, $4) ON CONFLICT (hash) \
                  DO UPDATE SET length = excluded.length, media = excluded.media, whole = excluded.whole";
    sql.run(insert, &photo_row(cited, whole)).map(drop)
}
