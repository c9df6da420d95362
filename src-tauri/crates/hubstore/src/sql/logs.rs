//! Logs and their standing.

use std::collections::BTreeMap;

use record::{LogId, PayloadHash, Seq};

use super::{Backend, Column, Database, Lookup, Row, Sql, Value};
use crate::{Error, LogRow, Logs, ParkedLog, Standing};

const COLUMNS: &str = "log.log, log.key, log.standing, log.last_seq, log.last_hash";

const NAMED: Lookup = Lookup { select: COLUMNS, table: "log", keys: &[Column::Blob("log")] };

impl<B: Backend> Logs for Database<B> {
    async fn log(&self, log: LogId) -> Result<Option<LogRow>, Error> {
        let select = format!("SELECT {COLUMNS} FROM log WHERE log = $1");
        self.read(move |sql| sql.row(&select, &[Value::blob(log.0)])?.map(log_row).transpose()).await
    }

    async fn logs_named(&self, logs: &[LogId]) -> Result<BTreeMap<LogId, LogRow>, Error> {
        let keys: Vec<Vec<Value>> = logs.iter().map(|log| vec![Value::blob(log.0)]).collect();
        self.read(move |sql| {
            let rows = sql.lookup(NAMED, &keys)?.into_iter().map(log_row);
            rows.map(|row| row.map(|row| (row.log, row))).collect()
        })
        .await
    }

    async fn logs(&self, after: Option<LogId>, most: u32) -> Result<Vec<LogRow>, Error> {
        let after = Value::Blob(after.map(|log| log.0.to_vec()).unwrap_or_default());
        self.read(move |sql| logs(sql, after, most)).await
    }

    async fn set_standing(&self, log: LogId, standing: Standing) -> Result<(), Error> {
        if standing == Standing::Parked {
            return Err(match self.log(log).await? {
                Some(row) if row.standing != Standing::Parked => {
                    Error::broken("a log that was known is not parked again")
                }
                _ => Error::UnknownLog { log },
            });
        }
        self.write(move |sql| set_standing(sql, log, standing)).await
    }

    async fn parked(&self) -> Result<Vec<ParkedLog>, Error> {
        self.read(|sql| {
            let select =
                "SELECT log, count(*), CAST(sum(size) AS BIGINT) FROM parked GROUP BY log ORDER BY log";
            let rows = sql.rows(select, &[])?.into_iter();
            rows.map(|mut row| Ok(ParkedLog { log: row.log()?, entries: row.count()?, bytes: row.count()? }))
                .collect()
        })
        .await
    }
}

/// Writes down how a known log stands.
pub(super) fn set_standing(sql: &mut dyn Sql, log: LogId, standing: Standing) -> Result<(), Error> {
    let [standing, seq, hash] = standing_values(standing);
    let update =
        "UPDATE log SET standing = $2, last_seq = $3, last_hash = $4 WHERE log = $1 AND standing <> 0";
    match sql.run(update, &[Value::blob(log.0), standing, seq, hash])? {
        0 => Err(Error::UnknownLog { log }),
        _ => Ok(()),
    }
}

/// Returns up to `most` logs by name, after one.
pub(super) fn logs(sql: &mut dyn Sql, after: Value, most: u32) -> Result<Vec<LogRow>, Error> {
    let select = format!("SELECT {COLUMNS} FROM log WHERE log > $1 ORDER BY log LIMIT $2");
    sql.rows(&select, &[after, Value::Int(most.into())])?.into_iter().map(log_row).collect()
}

fn log_row(mut row: Row) -> Result<LogRow, Error> {
    Ok(LogRow { log: row.log()?, key: row.blob()?, standing: standing(&mut row)? })
}

/// Reads a standing: its number, and the last entry that counts.
fn standing(row: &mut Row) -> Result<Standing, Error> {
    let (number, seq, hash) = (row.int()?, row.count()?, row.previous()?);
    match number {
        0 => Ok(Standing::Parked),
        1 => Ok(Standing::Known),
        2 => Ok(Standing::Revoked(Seq::new(seq).zip(hash))),
        other => Err(Error::unreadable(format!("a log's standing of {other}"))),
    }
}

/// Writes a standing.
pub(super) fn standing_values(standing: Standing) -> [Value; 3] {
    let values = |number, last: Option<(Seq, PayloadHash)>| {
        let (seq, hash) = last.unzip();
        [Value::Int(number), Value::count(seq.map_or(0, Seq::get)), Value::previous(hash)]
    };
    match standing {
        Standing::Parked => values(0, None),
        Standing::Known => values(1, None),
        Standing::Revoked(last) => values(2, last),
    }
}
