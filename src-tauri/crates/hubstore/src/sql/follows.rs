//! What follows from an entry, in the transaction that appends it.

use record::EntryId;

use super::Sql;
use super::access::end_tokens;
use super::logs::set_standing;
use super::meta::{set_setting, setting};
use super::people::change_person;
use super::register::{put_rows, standing};
use crate::{Changed, Error, Follows, Purpose, Putting, Row, Rows};

/// Does what follows; `entry` is named where something does not stand as it was read.
pub(super) fn follow(sql: &mut dyn Sql, follows: Follows, entry: EntryId) -> Result<(), Error> {
    let Follows { rows, import, people, settings, standings } = follows;
    let moved_on = Error::OutOfStep { entry };
    if !change(sql, rows)? || !put_in(sql, import)? {
        return Err(moved_on);
    }
    for person in &people {
        if !change_person(sql, person)? {
            return Err(moved_on);
        }
    }
    for (name, Changed { was, is }) in settings {
        if setting(sql, &name)? != was {
            return Err(moved_on);
        }
        set_setting(sql, &name, is.as_deref())?;
    }
    for (log, stands) in standings {
        set_standing(sql, log, stands)?;
        end_tokens(sql, Purpose::Session, &log.0)?;
    }
    Ok(())
}

/// Changes rows; returns whether they stood as they were read.
fn change(sql: &mut dyn Sql, rows: Vec<Changed<Row>>) -> Result<bool, Error> {
    if rows.is_empty() {
        return Ok(true);
    }
    // The number first: from here on no other process changes the register before the commit.
    sql.lock("version")?;
    let (was, is): (Vec<Row>, Vec<Row>) = rows.into_iter().map(|row| (row.was, row.is)).unzip();
    let stands = standing(sql, &Rows::Some(was.clone()))?;
    if was.iter().any(|row| stands.get(&row.tag) != Some(row)) {
        return Ok(false);
    }
    put_rows(sql, Rows::Some(is))?;
    Ok(true)
}

/// Puts rows in; returns whether it came to what it was to come to.
fn put_in(sql: &mut dyn Sql, import: Option<Putting>) -> Result<bool, Error> {
    let Some(Putting { rows, put }) = import else { return Ok(true) };
    Ok(put_rows(sql, rows)? == put)
}
