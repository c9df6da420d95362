//! Everything, out: page by page within one read transaction.

use record::LogId;
use tokio::sync::mpsc::{Receiver, Sender};

use super::entries::{COLUMNS, stored};
use super::jobs::finding;
use super::logs::logs;
use super::people::{devices, persons};
use super::photos::cited;
use super::register::change;
use super::restore::restore;
use super::{Backend, Database, Sql, Value, meta};
use crate::{Arrival, Dump, Error, Item, NewEntry};

/// How many rows are read at once.
const PAGE: u32 = 500;

impl<B: Backend> Dump for Database<B> {
    async fn dump(&self, to: Sender<Item>) -> Result<(), Error> {
        self.read(move |sql| match all(sql, &to) {
            Ok(()) | Err(Stop::Deaf) => Ok(()),
            Err(Stop::Failed(error)) => Err(error),
        })
        .await
    }

    async fn restore(&self, from: Receiver<Item>) -> Result<u64, Error> {
        self.write(move |sql| restore(sql, from)).await
    }
}

/// Why a dump ends early.
enum Stop {
    /// Nobody listens any more.
    Deaf,
    Failed(Error),
}

impl From<Error> for Stop {
    fn from(error: Error) -> Stop {
        Stop::Failed(error)
    }
}

fn send(to: &Sender<Item>, item: Item) -> Result<(), Stop> {
    to.blocking_send(item).map_err(|_| Stop::Deaf)
}

fn all(sql: &mut dyn Sql, to: &Sender<Item>) -> Result<(), Stop> {
    if let Some(identity) = meta::identity(sql)? {
        send(to, Item::Identity(identity))?;
    }
    for mut row in sql.rows("SELECT name, value FROM setting ORDER BY name", &[])? {
        send(to, Item::Setting(row.text()?, row.blob()?))?;
    }
    all_logs(sql, to)?;
    entries(sql, to)?;
    parked(sql, to)?;
    changes(sql, to)?;
    persons(sql)?.into_iter().try_for_each(|person| send(to, Item::Person(person)))?;
    devices(sql)?.into_iter().try_for_each(|device| send(to, Item::Device(device)))?;
    photos(sql, to)?;
    findings(sql, to)
}

fn all_logs(sql: &mut dyn Sql, to: &Sender<Item>) -> Result<(), Stop> {
    let mut after = Value::blob([]);
    loop {
        let page = logs(sql, after, PAGE)?;
        let Some(last) = page.last().map(|row| row.log) else { return Ok(()) };
        after = Value::blob(last.0);
        page.into_iter().try_for_each(|row| send(to, Item::Log(row)))?;
    }
}

fn entries(sql: &mut dyn Sql, to: &Sender<Item>) -> Result<(), Stop> {
    let select = format!("SELECT {COLUMNS} FROM entry WHERE arrival > $1 ORDER BY arrival LIMIT $2");
    let mut after = Arrival::default();
    loop {
        let page = sql.rows(&select, &[Value::count(after.0), Value::Int(PAGE.into())])?;
        if page.is_empty() {
            return Ok(());
        }
        for row in page {
            let entry = stored(row)?;
            after = entry.arrival;
            send(to, Item::Entry(entry))?;
        }
    }
}

/// There are few of these: each log has a limit.
fn parked(sql: &mut dyn Sql, to: &Sender<Item>) -> Result<(), Stop> {
    for mut row in sql.rows("SELECT DISTINCT log FROM parked ORDER BY log", &[])? {
        parked_of(sql, row.log()?, to)?;
    }
    Ok(())
}

fn parked_of(sql: &mut dyn Sql, log: LogId, to: &Sender<Item>) -> Result<(), Stop> {
    let select = "SELECT carrier, bytes FROM parked WHERE log = $1 ORDER BY seq, hash";
    for mut row in sql.rows(select, &[Value::blob(log.0)])? {
        let carrier = row.fixed()?;
        send(to, Item::Parked(carrier, Box::new(NewEntry::kept(&row.blob()?)?)))?;
    }
    Ok(())
}

fn changes(sql: &mut dyn Sql, to: &Sender<Item>) -> Result<(), Stop> {
    let select = "SELECT version, tag, area, gone, bytes FROM register_change WHERE version > $1 \
                  ORDER BY version LIMIT $2";
    let mut after = 0;
    loop {
        let page = sql.rows(select, &[Value::count(after), Value::Int(PAGE.into())])?;
        if page.is_empty() {
            return Ok(());
        }
        for row in page {
            let change = change(row)?;
            after = change.version.0;
            send(to, Item::Change(change))?;
        }
    }
}

fn photos(sql: &mut dyn Sql, to: &Sender<Item>) -> Result<(), Stop> {
    let select = "SELECT hash, length, media, whole FROM photo WHERE hash > $1 ORDER BY hash LIMIT $2";
    let mut after = Value::blob([]);
    loop {
        let page = sql.rows(select, &[after.clone(), Value::Int(PAGE.into())])?;
        if page.is_empty() {
            return Ok(());
        }
        for mut row in page {
            let cited = cited(&mut row)?;
            after = Value::blob(cited.photo.0);
            send(to, Item::Photo(cited, row.flag()?))?;
        }
    }
}

fn findings(sql: &mut dyn Sql, to: &Sender<Item>) -> Result<(), Stop> {
    let select = "SELECT arrival, word, detail FROM finding WHERE arrival > $1 ORDER BY arrival LIMIT $2";
    let mut after = Arrival::default();
    loop {
        let page = sql.rows(select, &[Value::count(after.0), Value::Int(PAGE.into())])?;
        if page.is_empty() {
            return Ok(());
        }
        for mut row in page {
            after = row.arrival()?;
            send(to, Item::Found(after, finding(&mut row)?))?;
        }
    }
}
