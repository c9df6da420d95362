//! Tokens, enrolments, counters.

use record::LogId;

use super::{Backend, Database, Row, Sql, Value};
use crate::{Access, Enrolment, Error, Moment, Purpose, Token};

impl<B: Backend> Access for Database<B> {
    async fn put_token(&self, token: &Token) -> Result<(), Error> {
        let values = [
            Value::Int(token.purpose.number()),
            Value::blob(token.hash),
            Value::blob(&token.holder),
            Value::blob(&token.content),
            Value::Int(token.expires.0),
        ];
        self.write(move |sql| {
            let insert = "INSERT INTO token (purpose, hash, holder, content, expires) VALUES ($1, $2, $3, $4, $5) \
                          ON CONFLICT (purpose, hash) DO UPDATE SET holder = excluded.holder, \
                          content = excluded.content, expires = excluded.expires";
            sql.run(insert, &values).map(drop)
        })
        .await
    }

    async fn take_token(
        &self,
        purpose: Purpose,
        hash: [u8; 32],
        now: Moment,
    ) -> Result<Option<Token>, Error> {
        self.write(move |sql| take(sql, purpose, hash, now)).await
    }

    async fn look_token(
        &self,
        purpose: Purpose,
        hash: [u8; 32],
        now: Moment,
    ) -> Result<Option<Token>, Error> {
        self.read(move |sql| {
            let select = "SELECT holder, content, expires FROM token WHERE purpose = $1 AND hash = $2";
            let row = sql.row(select, &[Value::Int(purpose.number()), Value::blob(hash)])?;
            unexpired(row, purpose, hash, now)
        })
        .await
    }

    async fn enrol_with(
        &self,
        code: [u8; 32],
        now: Moment,
        enrolment: &Enrolment,
    ) -> Result<Option<Enrolment>, Error> {
        let enrolment = enrolment.clone();
        self.write(move |sql| {
            let Some(token) = take(sql, Purpose::Code, code, now)? else { return Ok(None) };
            let waits = Enrolment { content: token.content, ..enrolment };
            put_enrolment(sql, &waits)?;
            Ok(Some(waits))
        })
        .await
    }

    async fn enrolments(&self) -> Result<Vec<Enrolment>, Error> {
        self.read(|sql| {
            let select = "SELECT log, key, label, content, digits, asked FROM enrolment ORDER BY asked, log";
            sql.rows(select, &[])?.into_iter().map(enrolment).collect()
        })
        .await
    }

    async fn drop_enrolment(&self, log: LogId) -> Result<bool, Error> {
        let log = Value::blob(log.0);
        self.write(move |sql| Ok(sql.run("DELETE FROM enrolment WHERE log = $1", &[log])? > 0)).await
    }

    async fn strike(&self, bucket: &str, window: i64) -> Result<u64, Error> {
        let values = [Value::text(bucket), Value::Int(window)];
        self.write(move |sql| {
            let count = "INSERT INTO strike (bucket, begun, count) VALUES ($1, $2, 1) ON CONFLICT (bucket) DO UPDATE \
                         SET count = CASE WHEN strike.begun = excluded.begun THEN strike.count + 1 ELSE 1 END, \
                         begun = excluded.begun RETURNING count";
            sql.one(count, &values)?.count()
        })
        .await
    }

    async fn sweep(&self, now: Moment, window: i64) -> Result<u64, Error> {
        self.write(move |sql| {
            let tokens = sql.run("DELETE FROM token WHERE expires <= $1", &[Value::Int(now.0)])?;
            let strikes = sql.run("DELETE FROM strike WHERE begun < $1", &[Value::Int(window)])?;
            Ok(tokens + strikes)
        })
        .await
    }
}

/// Ends all tokens of a holder.
pub(super) fn end_tokens(sql: &mut dyn Sql, purpose: Purpose, holder: &[u8]) -> Result<(), Error> {
    let values = [Value::Int(purpose.number()), Value::blob(holder)];
    sql.run("DELETE FROM token WHERE purpose = $1 AND holder = $2", &values).map(drop)
}

/// Takes a token out; one that has expired goes too, and is none.
fn take(sql: &mut dyn Sql, purpose: Purpose, hash: [u8; 32], now: Moment) -> Result<Option<Token>, Error> {
    let delete = "DELETE FROM token WHERE purpose = $1 AND hash = $2 RETURNING holder, content, expires";
    let row = sql.row(delete, &[Value::Int(purpose.number()), Value::blob(hash)])?;
    unexpired(row, purpose, hash, now)
}

fn unexpired(
    row: Option<Row>,
    purpose: Purpose,
    hash: [u8; 32],
    now: Moment,
) -> Result<Option<Token>, Error> {
    let Some(mut row) = row else { return Ok(None) };
    let (holder, content, expires) = (row.blob()?, row.blob()?, Moment(row.int()?));
    Ok(Some(Token { purpose, hash, holder, content, expires }).filter(|token| now < token.expires))
}

fn put_enrolment(sql: &mut dyn Sql, waits: &Enrolment) -> Result<(), Error> {
    sql.run(
        "INSERT INTO enrolment (log, key, label, content, digits, asked) VALUES ($1, $2, $3, $4, $5, $6) \
         ON CONFLICT (log) DO UPDATE SET key = excluded.key, label = excluded.label, content = excluded.content, \
         digits = excluded.digits, asked = excluded.asked",
        &[
            Value::blob(waits.log.0),
            Value::blob(&waits.key),
            Value::text(&waits.label),
            Value::blob(&waits.content),
            Value::text(&waits.digits),
            Value::Int(waits.asked.0),
        ],
    )
    .map(drop)
}

fn enrolment(mut row: Row) -> Result<Enrolment, Error> {
    Ok(Enrolment {
        log: row.log()?,
        key: row.blob()?,
        label: row.text()?,
        content: row.blob()?,
        digits: row.text()?,
        asked: Moment(row.int()?),
    })
}
