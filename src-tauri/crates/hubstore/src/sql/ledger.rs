//! Entries, in and out.

use std::collections::{BTreeMap, BTreeSet};

use exchange::run::{Runs, Step, Wanted};
use record::{EntryId, Kind, LogId, PayloadHash, Seq};

use super::entries::{BY_ARRIVAL, COLUMNS, ENTRY, stored};
use super::follows::follow;
use super::ingest::{held, ingest, runs};
use super::{Backend, Database, Row, Sql, Value};
use crate::plan::{at_once, extends, walk};
use crate::{
    Arrival, Batch, Error, Filter, Follows, Fork, Ingested, Ledger, Limit, NewEntry, News, StoredEntry,
};

impl<B: Backend> Ledger for Database<B> {
    async fn ingest(&self, batch: Batch) -> Result<Ingested, Error> {
        self.write(move |sql| ingest(sql, batch)).await
    }

    async fn append(&self, entries: Vec<NewEntry>) -> Result<Arrival, Error> {
        self.append_with(entries, Follows::default()).await
    }

    async fn append_with(&self, entries: Vec<NewEntry>, follows: Follows) -> Result<Arrival, Error> {
        self.write(move |sql| {
            let Some(first) = entries.first().map(|entry| entry.id) else { return newest(sql) };
            let at = append(sql, entries, first.log)?;
            follow(sql, follows, first)?;
            Ok(at)
        })
        .await
    }

    async fn tip(&self, log: LogId) -> Result<Option<(Seq, PayloadHash)>, Error> {
        self.read(move |sql| tip(sql, log)).await
    }

    async fn runs(&self, logs: &[LogId]) -> Result<BTreeMap<LogId, Runs>, Error> {
        let keys: Vec<Vec<Value>> = logs.iter().map(|log| vec![Value::blob(log.0)]).collect();
        self.read(move |sql| runs(sql, &keys)).await
    }

    async fn holds(&self, ids: &[EntryId]) -> Result<Vec<bool>, Error> {
        let ids = ids.to_vec();
        let held = |sql: &mut dyn Sql, ids: Vec<EntryId>| {
            let held = held(sql, &ids)?;
            Ok(ids.iter().map(|id| held.contains(id)).collect())
        };
        self.read(move |sql| held(sql, ids)).await
    }

    async fn entry(&self, id: EntryId) -> Result<Option<StoredEntry>, Error> {
        self.read(move |sql| {
            sql.lookup(ENTRY, &[Value::id(id).to_vec()])?.into_iter().next().map(stored).transpose()
        })
        .await
    }

    async fn branch(&self, wanted: Wanted) -> Result<Vec<StoredEntry>, Error> {
        at_once(wanted.from, wanted.to)?;
        self.read(move |sql| branch(sql, wanted)).await
    }

    async fn links(&self, log: LogId, from: Seq, to: Seq) -> Result<Vec<Step>, Error> {
        at_once(from, to)?;
        self.read(move |sql| links(sql, log, from, to)).await
    }

    async fn forked(&self, log: LogId, upto: Seq) -> Result<BTreeSet<Seq>, Error> {
        let select = "SELECT seq FROM fork WHERE log = $1 AND seq <= $2";
        self.read(move |sql| {
            let rows = sql.rows(select, &[Value::blob(log.0), Value::seq(upto)])?;
            rows.into_iter().map(|mut row| row.seq()).collect()
        })
        .await
    }

    async fn since(&self, after: Arrival, filter: &Filter, limit: Limit) -> Result<News, Error> {
        let filter = filter.clone();
        self.read(move |sql| since(sql, after, &filter, limit)).await
    }

    async fn latest(
        &self,
        before: Option<Arrival>,
        filter: &Filter,
        limit: Limit,
    ) -> Result<Vec<StoredEntry>, Error> {
        let filter = filter.clone();
        self.read(move |sql| latest(sql, before, &filter, limit)).await
    }

    async fn news_for(&self, logs: &[LogId], after: Arrival, limit: Limit) -> Result<News, Error> {
        let logs = logs.to_vec();
        self.read(move |sql| news_for(sql, &logs, after, limit)).await
    }

    async fn receipts(&self, log: LogId) -> Result<Vec<StoredEntry>, Error> {
        let select = format!(
            "SELECT {COLUMNS} FROM receipt JOIN entry ON entry.arrival = receipt.arrival \
             WHERE receipt.log = $1 ORDER BY entry.arrival"
        );
        self.read(move |sql| sql.rows(&select, &[Value::blob(log.0)])?.into_iter().map(stored).collect())
            .await
    }

    async fn newest(&self) -> Result<Arrival, Error> {
        self.read(newest).await
    }

    async fn forks(&self) -> Result<Vec<Fork>, Error> {
        self.read(forks).await
    }
}

fn newest(sql: &mut dyn Sql) -> Result<Arrival, Error> {
    sql.value("arrival").map(Arrival)
}

fn append(sql: &mut dyn Sql, entries: Vec<NewEntry>, log: LogId) -> Result<Arrival, Error> {
    sql.lock("arrival")?;
    let known = "SELECT count(*) FROM log WHERE log = $1 AND standing <> 0";
    if sql.one(known, &[Value::blob(log.0)])?.count()? == 0 {
        return Err(Error::UnknownLog { log });
    }
    extends(tip(sql, log)?, &entries)?;
    ingest(sql, Batch::of_known(entries))?;
    newest(sql)
}

fn tip(sql: &mut dyn Sql, log: LogId) -> Result<Option<(Seq, PayloadHash)>, Error> {
    let select =
        "SELECT to_seq, end_hash FROM run WHERE log = $1 ORDER BY to_seq DESC, end_hash DESC LIMIT 1";
    let row = sql.row(select, &[Value::blob(log.0)])?;
    row.map(|mut row| Ok((row.seq()?, row.hash()?))).transpose()
}

fn branch(sql: &mut dyn Sql, wanted: Wanted) -> Result<Vec<StoredEntry>, Error> {
    let select =
        format!("SELECT {COLUMNS} FROM entry WHERE log = $1 AND seq >= $2 AND seq <= $3 ORDER BY seq");
    let places = [Value::blob(wanted.log.0), Value::seq(wanted.from), Value::seq(wanted.to)];
    let entries = sql.rows(&select, &places)?.into_iter().map(stored);
    walk(wanted, entries.collect::<Result<_, _>>()?)
}

fn links(sql: &mut dyn Sql, log: LogId, from: Seq, to: Seq) -> Result<Vec<Step>, Error> {
    let select = "SELECT seq, hash, previous FROM entry WHERE log = $1 AND seq >= $2 AND seq <= $3 \
                  ORDER BY seq, hash";
    let rows = sql.rows(select, &[Value::blob(log.0), Value::seq(from), Value::seq(to)])?;
    let step = |mut row: Row| {
        let (seq, hash) = (row.seq()?, row.hash()?);
        Ok(Step { seq, hash, previous: row.previous()? })
    };
    rows.into_iter().map(step).collect()
}

/// A number and how many bytes stand under it.
type Sized = (Arrival, u64);

fn since(sql: &mut dyn Sql, after: Arrival, filter: &Filter, limit: Limit) -> Result<News, Error> {
    let newest = newest(sql)?;
    let mut found = BTreeSet::new();
    for only in each(filter) {
        let mut values = vec![Value::count(after.0), Value::count(newest.0), one_more(limit)];
        let select = format!(
            "SELECT arrival, size FROM entry WHERE arrival > $1 AND arrival <= $2 {}ORDER BY arrival LIMIT $3",
            filters(only, &mut values)
        );
        found.extend(sizes(sql, &select, &values)?);
    }
    page(sql, &found, limit, newest.max(after))
}

fn latest(
    sql: &mut dyn Sql,
    before: Option<Arrival>,
    filter: &Filter,
    limit: Limit,
) -> Result<Vec<StoredEntry>, Error> {
    let mut found = BTreeSet::new();
    for only in each(filter) {
        let mut values = vec![Value::below(before), Value::Int(limit.entries.into())];
        let select = format!(
            "SELECT arrival, size FROM entry WHERE arrival < $1 {}ORDER BY arrival DESC LIMIT $2",
            filters(only, &mut values)
        );
        found.extend(sizes(sql, &select, &values)?);
    }
    let (taken, _) = limit.cut(found.iter().rev().map(|(arrival, size)| (*arrival, *size)));
    let mut entries = numbered(sql, &taken)?;
    entries.reverse();
    Ok(entries)
}

/// Some databases, asked for several kinds at once, go through all entries; so each is asked for by itself.
fn each(filter: &Filter) -> Vec<(Option<Kind>, Option<LogId>)> {
    let each_kind: Vec<Option<Kind>> = match filter.kinds.as_slice() {
        [] => vec![None],
        kinds => kinds.iter().copied().map(Some).collect(),
    };
    let each_log: Vec<Option<LogId>> = match filter.logs.as_slice() {
        [] => vec![None],
        logs => logs.iter().copied().map(Some).collect(),
    };
    each_kind.iter().flat_map(|kind| each_log.iter().map(move |log| (*kind, *log))).collect()
}

/// The condition of one kind and one log, behind others.
fn filters((kind, log): (Option<Kind>, Option<LogId>), values: &mut Vec<Value>) -> String {
    let mut filters = String::new();
    if let Some(kind) = kind {
        // As a number and not as a place: PostgreSQL then knows how rare the kind is, and does not walk through all the
        // others to find its first hundred.
        filters.push_str(&format!("AND kind = {} ", kind.0));
    }
    if let Some(log) = log {
        values.push(Value::blob(log.0));
        filters.push_str(&format!("AND log = ${} ", values.len()));
    }
    filters
}

fn one_more(limit: Limit) -> Value {
    Value::Int(i64::from(limit.entries) + 1)
}

fn sizes(sql: &mut dyn Sql, select: &str, values: &[Value]) -> Result<Vec<Sized>, Error> {
    sql.rows(select, values)?.into_iter().map(|mut row| Ok((row.arrival()?, row.count()?))).collect()
}

fn news_for(sql: &mut dyn Sql, logs: &[LogId], after: Arrival, limit: Limit) -> Result<News, Error> {
    let newest = newest(sql)?;
    let select = "SELECT entry.arrival, entry.size FROM concern JOIN entry ON entry.arrival = concern.arrival \
                  WHERE concern.log = $1 AND concern.arrival > $2 AND concern.arrival <= $3 \
                  ORDER BY concern.arrival LIMIT $4";
    let everyone = Value::blob([]);
    let whose = logs.iter().map(|log| Value::blob(log.0)).chain([everyone]);
    let mut found = BTreeSet::new();
    for who in whose {
        let values = [who, Value::count(after.0), Value::count(newest.0), one_more(limit)];
        found.extend(sizes(sql, select, &values)?);
    }
    page(sql, &found, limit, newest.max(after))
}

/// Reads as many of the entries as the limit permits.
fn page(sql: &mut dyn Sql, found: &BTreeSet<Sized>, limit: Limit, newest: Arrival) -> Result<News, Error> {
    let (taken, more) = limit.cut(found.iter().map(|(arrival, size)| (*arrival, *size)));
    let entries = numbered(sql, &taken)?;
    let upto = taken.last().filter(|_| more).copied().unwrap_or(newest);
    Ok(News { entries, upto, more })
}

/// Reads the entries of these numbers, in the order they came.
fn numbered(sql: &mut dyn Sql, numbers: &[Arrival]) -> Result<Vec<StoredEntry>, Error> {
    let keys: Vec<Vec<Value>> = numbers.iter().map(|arrival| vec![Value::count(arrival.0)]).collect();
    let entries = sql.lookup(BY_ARRIVAL, &keys)?.into_iter().map(stored);
    let mut entries = entries.collect::<Result<Vec<StoredEntry>, _>>()?;
    entries.sort_by_key(|entry| entry.arrival);
    Ok(entries)
}

fn forks(sql: &mut dyn Sql) -> Result<Vec<Fork>, Error> {
    let select = "SELECT entry.log, entry.seq, entry.hash FROM fork JOIN entry \
                  ON entry.log = fork.log AND entry.seq = fork.seq";
    let mut forks = BTreeMap::<(LogId, Seq), BTreeSet<PayloadHash>>::new();
    for mut row in sql.rows(select, &[])? {
        let EntryId { log, seq, payload } = row.id()?;
        forks.entry((log, seq)).or_default().insert(payload);
    }
    let fork = |((log, seq), payloads): (_, BTreeSet<_>)| Fork {
        log,
        seq,
        payloads: payloads.into_iter().collect(),
    };
    Ok(forks.into_iter().map(fork).collect())
}
