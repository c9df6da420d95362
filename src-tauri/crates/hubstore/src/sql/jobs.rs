//! The queue of visits to be worked out again.

use record::EntryId;

use super::{Backend, Column, Database, Dialect, Insert, Lookup, Row, Sql, Value};
use crate::{Arrival, Error, Found, Job, Jobs, Moment, Tally, WorkedOut};

const IDS: Lookup = Lookup {
    select: "entry.arrival, entry.log, entry.seq, entry.hash",
    table: "entry",
    keys: &[Column::Int("arrival")],
};

const FINDING: Insert = Insert {
    table: "finding",
    columns: &[Column::Int("arrival"), Column::Text("word"), Column::Text("detail")],
    conflict: "ON CONFLICT (arrival) DO UPDATE SET word = excluded.word, detail = excluded.detail",
};

impl<B: Backend> Jobs for Database<B> {
    async fn claim(&self, now: Moment, until: Moment, most: u32) -> Result<Vec<Job>, Error> {
        self.write(move |sql| claim(sql, now, until, most)).await
    }

    async fn finish(&self, found: &[(Arrival, Found)]) -> Result<(), Error> {
        let found = found.to_vec();
        self.write(move |sql| finish(sql, found)).await
    }

    async fn requeue(&self, word: &str) -> Result<u64, Error> {
        let word = Value::text(word);
        self.write(move |sql| {
            // The WHERE also keeps SQLite from reading ON CONFLICT as a join.
            sql.run(
                "INSERT INTO job (arrival, until, tries) SELECT arrival, CAST($2 AS BIGINT), 0 FROM finding WHERE word = $1 \
                 ON CONFLICT (arrival) DO UPDATE SET until = excluded.until, tries = 0",
                &[word, Value::Int(i64::MIN)],
            )
        })
        .await
    }

    async fn found(&self, id: EntryId) -> Result<Option<Found>, Error> {
        self.read(move |sql| {
            let select = "SELECT finding.word, finding.detail FROM entry JOIN finding \
                          ON finding.arrival = entry.arrival WHERE entry.log = $1 AND entry.seq = $2 AND entry.hash = $3";
            sql.row(select, &Value::id(id))?.map(|mut row| finding(&mut row)).transpose()
        })
        .await
    }

    async fn findings(
        &self,
        word: &str,
        before: Option<Arrival>,
        most: u32,
    ) -> Result<Vec<WorkedOut>, Error> {
        let values = [Value::text(word), Value::below(before), Value::Int(most.into())];
        self.read(move |sql| {
            let select = "SELECT entry.arrival, entry.log, entry.seq, entry.hash, finding.word, finding.detail \
                          FROM finding JOIN entry ON entry.arrival = finding.arrival \
                          WHERE finding.word = $1 AND finding.arrival < $2 ORDER BY finding.arrival DESC LIMIT $3";
            let rows = sql.rows(select, &values)?.into_iter();
            rows.map(|mut row| {
                Ok(WorkedOut { arrival: row.arrival()?, id: row.id()?, found: finding(&mut row)? })
            })
            .collect()
        })
        .await
    }

    async fn tally(&self) -> Result<Tally, Error> {
        self.read(|sql| {
            let waiting = sql.one("SELECT count(*) FROM job", &[])?.count()?;
            let rows = sql.rows("SELECT word, count(*) FROM finding GROUP BY word", &[])?.into_iter();
            let done = rows.map(|mut row| Ok((row.text()?, row.count()?)));
            Ok(Tally { waiting, done: done.collect::<Result<_, Error>>()? })
        })
        .await
    }
}

fn claim(sql: &mut dyn Sql, now: Moment, until: Moment, most: u32) -> Result<Vec<Job>, Error> {
    // In PostgreSQL another claimer passes by the rows that this one is about to take, and takes the next.
    let passing_by = match sql.dialect() {
        Dialect::Sqlite => "",
        Dialect::Postgres => "FOR UPDATE SKIP LOCKED",
    };
    let update = format!(
        "UPDATE job SET until = $2, tries = tries + 1 WHERE until <= $1 AND arrival IN \
         (SELECT arrival FROM job WHERE until <= $1 ORDER BY arrival LIMIT $3 {passing_by}) RETURNING arrival, tries"
    );
    let values = [Value::Int(now.0), Value::Int(until.0), Value::Int(most.into())];
    let claimed = sql.rows(&update, &values)?.into_iter().map(|mut row| Ok((row.arrival()?, row.small()?)));
    let claimed = claimed.collect::<Result<std::collections::BTreeMap<Arrival, u32>, Error>>()?;
    let keys: Vec<Vec<Value>> = claimed.keys().map(|arrival| vec![Value::count(arrival.0)]).collect();
    let mut jobs = Vec::with_capacity(keys.len());
    for mut row in sql.lookup(IDS, &keys)? {
        let (arrival, id) = (row.arrival()?, row.id()?);
        jobs.push(Job { arrival, id, tries: claimed.get(&arrival).copied().unwrap_or_default() });
    }
    jobs.sort_by_key(|job| job.arrival);
    Ok(jobs)
}

/// Writes findings down and takes their jobs out.
pub(super) fn finish(sql: &mut dyn Sql, found: Vec<(Arrival, Found)>) -> Result<(), Error> {
    let newest: std::collections::BTreeMap<Arrival, Found> = found.into_iter().collect();
    let keys: Vec<Vec<Value>> = newest.keys().map(|arrival| vec![Value::count(arrival.0)]).collect();
    let mut rows = Vec::with_capacity(keys.len());
    for mut row in sql.lookup(IDS, &keys)? {
        let arrival = row.arrival()?;
        sql.run("DELETE FROM job WHERE arrival = $1", &[Value::count(arrival.0)])?;
        if let Some(found) = newest.get(&arrival) {
            rows.push(vec![Value::count(arrival.0), Value::text(found.word()), Value::text(found.detail())]);
        }
    }
    sql.insert(FINDING, &rows)
}

/// Reads a finding.
pub(super) fn finding(row: &mut Row) -> Result<Found, Error> {
    let (word, detail) = (row.text()?, row.text()?);
    Found::from_parts(&word, detail).ok_or_else(|| Error::unreadable("a finding that is none"))
}
