//! Identity and settings.

use bodies::Epoch;

use super::{Backend, Database, Sql, Value};
use crate::plan;
use crate::{Counted, Error, Identity, Meta};

impl<B: Backend> Meta for Database<B> {
    async fn identity(&self) -> Result<Option<Identity>, Error> {
        self.read(identity).await
    }

    async fn begin_epoch(&self, identity: &Identity, settings: &[(&str, &[u8])]) -> Result<(), Error> {
        let identity = identity.clone();
        let settings: Vec<(String, Vec<u8>)> =
            settings.iter().map(|(name, value)| ((*name).to_owned(), value.to_vec())).collect();
        self.write(move |sql| {
            put_identity(sql, &identity)?;
            settings.iter().try_for_each(|(name, value)| put_setting(sql, name, value))?;
            sql.run("DELETE FROM token", &[]).map(drop)
        })
        .await
    }

    async fn setting(&self, name: &str) -> Result<Option<Vec<u8>>, Error> {
        let name = name.to_owned();
        self.read(move |sql| setting(sql, &name)).await
    }

    async fn put_setting(&self, name: &str, value: Option<&[u8]>) -> Result<(), Error> {
        let (name, value) = (name.to_owned(), value.map(<[u8]>::to_vec));
        self.write(move |sql| set_setting(sql, &name, value.as_deref())).await
    }

    async fn counted(&self, name: &str) -> Result<Option<Counted>, Error> {
        let name = name.to_owned();
        self.read(move |sql| counted(sql, &name)).await
    }
}

/// Reads which hub this is.
pub(super) fn identity(sql: &mut dyn Sql) -> Result<Option<Identity>, Error> {
    let row = sql.row("SELECT epoch, log, organisation FROM hub WHERE one = 1", &[])?;
    row.map(|mut row| Ok(Identity { epoch: Epoch(row.fixed()?), log: row.log()?, organisation: row.blob()? }))
        .transpose()
}

/// Writes which hub this is.
pub(super) fn put_identity(sql: &mut dyn Sql, identity: &Identity) -> Result<(), Error> {
    sql.run(
        "INSERT INTO hub (one, epoch, log, organisation) VALUES (1, $1, $2, $3) \
         ON CONFLICT (one) DO UPDATE SET epoch = excluded.epoch, log = excluded.log, \
         organisation = excluded.organisation",
        &[Value::blob(identity.epoch.0), Value::blob(identity.log.0), Value::blob(&identity.organisation)],
    )
    .map(drop)
}

/// Reads a setting.
pub(super) fn setting(sql: &mut dyn Sql, name: &str) -> Result<Option<Vec<u8>>, Error> {
    let row = sql.row("SELECT value FROM setting WHERE name = $1", &[Value::text(name)])?;
    row.map(|mut row| row.blob()).transpose()
}

/// Reads a setting that counts its changes.
pub(super) fn counted(sql: &mut dyn Sql, name: &str) -> Result<Option<Counted>, Error> {
    setting(sql, name)?.map(|kept| plan::counted(&kept)).transpose()
}

/// The same before a change to it. The register's lock is held to the commit: two changes at once take two numbers.
pub(super) fn counted_alone(sql: &mut dyn Sql, name: &str) -> Result<Option<Counted>, Error> {
    sql.lock("version")?;
    counted(sql, name)
}

/// Sets a setting, or removes it.
pub(super) fn set_setting(sql: &mut dyn Sql, name: &str, value: Option<&[u8]>) -> Result<(), Error> {
    match value {
        Some(value) => put_setting(sql, name, value),
        None => sql.run("DELETE FROM setting WHERE name = $1", &[Value::text(name)]).map(drop),
    }
}

/// Writes a setting.
pub(super) fn put_setting(sql: &mut dyn Sql, name: &str, value: &[u8]) -> Result<(), Error> {
    sql.run(
        "INSERT INTO setting (name, value) VALUES ($1, $2) ON CONFLICT (name) DO UPDATE SET value = excluded.value",
        &[Value::text(name), Value::blob(value)],
    )
    .map(drop)
}
