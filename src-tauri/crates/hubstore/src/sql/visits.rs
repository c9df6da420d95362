//! The list of visits.

use super::{Backend, Database, Row, Sql, Value};
use crate::{Error, VisitLine, VisitRow, Visits, VisitsAsked};

impl<B: Backend> Visits for Database<B> {
    async fn visits(&self, asked: &VisitsAsked) -> Result<Vec<VisitRow>, Error> {
        let asked = asked.clone();
        self.read(move |sql| visits(sql, &asked)).await
    }

    async fn visit_count(&self) -> Result<u64, Error> {
        self.read(|sql| sql.one("SELECT count(*) FROM visit", &[])?.count()).await
    }
}

fn visits(sql: &mut dyn Sql, asked: &VisitsAsked) -> Result<Vec<VisitRow>, Error> {
    let mut values = vec![Value::below(asked.before), Value::Int(asked.most.into())];
    let mut filters = String::new();
    let texts = [("tag_key", asked.tag.as_ref().map(crate::TagKey::text)), ("site", asked.site.as_deref())];
    for (column, text) in texts {
        if let Some(text) = text {
            values.push(Value::text(text));
            filters.push_str(&format!("AND visit.{column} = ${} ", values.len()));
        }
    }
    let select = format!(
        "SELECT visit.arrival, visit.log, visit.seq, visit.hash, visit.tag, visit.site, visit.claimed, \
         visit.verdict, visit.technician, visit.confirmed, visit.model FROM visit \
         WHERE visit.arrival < $1 {filters}ORDER BY visit.arrival DESC LIMIT $2"
    );
    sql.rows(&select, &values)?.into_iter().map(visit_row).collect()
}

fn visit_row(mut row: Row) -> Result<VisitRow, Error> {
    let (arrival, id) = (row.arrival()?, row.id()?);
    let line = VisitLine {
        tag: row.text()?,
        site: row.text()?,
        claimed: row.int()?,
        verdict: row.text()?,
        technician: row.person()?,
        confirmed: row.confirmed()?,
        model: row.small()?,
    };
    Ok(VisitRow { arrival, id, line })
}
