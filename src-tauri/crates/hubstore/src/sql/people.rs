//! People and phones.

use bodies::{HubRole, PersonId};
use record::LogId;

use super::access::end_tokens;
use super::meta::{counted, counted_alone, put_setting};
use super::{Backend, Database, Row, Sql, Value};
use crate::plan::{PEOPLE, ends_sign_ins, next, who};
use crate::{Changed, Device, Error, HubPerson, People, Purpose, Version};

impl<B: Backend> People for Database<B> {
    async fn put_person(&self, person: &HubPerson) -> Result<(), Error> {
        let person = person.clone();
        self.write(move |sql| {
            changed(sql)?;
            put_person(sql, &person)
        })
        .await
    }

    async fn people_version(&self) -> Result<Version, Error> {
        self.read(|sql| Ok(counted(sql, PEOPLE)?.map_or(Version::default(), |kept| kept.version))).await
    }

    async fn person_named(&self, name: &str) -> Result<Option<HubPerson>, Error> {
        let name = Value::text(name);
        self.read(move |sql| {
            let select = "SELECT id, name, secret, role FROM person WHERE name = $1";
            sql.row(select, &[name])?.map(person).transpose()
        })
        .await
    }

    async fn persons(&self) -> Result<Vec<HubPerson>, Error> {
        self.read(persons).await
    }

    async fn drop_person(&self, id: PersonId) -> Result<bool, Error> {
        self.write(move |sql| {
            let gone = drop_person(sql, id)?;
            if gone {
                changed(sql)?;
            }
            Ok(gone)
        })
        .await
    }

    async fn put_device(&self, device: &Device) -> Result<(), Error> {
        let device = device.clone();
        self.write(move |sql| put_device(sql, &device)).await
    }

    async fn device(&self, log: LogId) -> Result<Option<Device>, Error> {
        self.read(move |sql| {
            let select = "SELECT log, label, person FROM device WHERE log = $1";
            sql.row(select, &[Value::blob(log.0)])?.map(|row| device(sql, row)).transpose()
        })
        .await
    }

    async fn devices(&self) -> Result<Vec<Device>, Error> {
        self.read(devices).await
    }
}

/// Gives a change to people the next number.
fn changed(sql: &mut dyn Sql) -> Result<(), Error> {
    let kept = counted_alone(sql, PEOPLE)?;
    put_setting(sql, PEOPLE, &next(kept.as_ref()))
}

/// Changes what stands of a person; returns whether it stood as it was read.
pub(super) fn change_person(sql: &mut dyn Sql, change: &Changed<Option<HubPerson>>) -> Result<bool, Error> {
    let Some(id) = who(change) else { return Ok(true) };
    // The number first: from here on no other process changes people before the commit.
    changed(sql)?;
    let select = "SELECT id, name, secret, role FROM person WHERE id = $1";
    let stands = sql.row(select, &[Value::blob(id.0)])?.map(person).transpose()?;
    if stands != change.was {
        return Ok(false);
    }
    match &change.is {
        Some(is) => put_person(sql, is)?,
        None => drop_person(sql, id).map(drop)?,
    }
    if ends_sign_ins(change) {
        end_tokens(sql, Purpose::SignIn, &id.0)?;
    }
    Ok(true)
}

fn drop_person(sql: &mut dyn Sql, id: PersonId) -> Result<bool, Error> {
    Ok(sql.run("DELETE FROM person WHERE id = $1", &[Value::blob(id.0)])? > 0)
}

/// Writes a person.
pub(super) fn put_person(sql: &mut dyn Sql, person: &HubPerson) -> Result<(), Error> {
    let named = [Value::text(&person.name), Value::blob(person.id.0)];
    let others = "SELECT count(*) FROM person WHERE name = $1 AND id <> $2";
    if sql.one(others, &named)?.count()? > 0 {
        return Err(Error::NameTaken);
    }
    let [name, id] = named;
    sql.run(
        "INSERT INTO person (id, name, secret, role) VALUES ($1, $2, $3, $4) ON CONFLICT (id) DO UPDATE SET \
         name = excluded.name, secret = excluded.secret, role = excluded.role",
        &[id, name, Value::text(&person.secret), Value::text(person.role.word())],
    )
    .map(drop)
}

/// Reads all people, by name.
pub(super) fn persons(sql: &mut dyn Sql) -> Result<Vec<HubPerson>, Error> {
    let select = "SELECT id, name, secret, role FROM person ORDER BY name";
    sql.rows(select, &[])?.into_iter().map(person).collect()
}

fn person(mut row: Row) -> Result<HubPerson, Error> {
    let (id, name, secret) = (row.person()?, row.text()?, row.text()?);
    let role = HubRole::from_word(&row.text()?).ok_or_else(|| Error::unreadable("a role that is none"))?;
    Ok(HubPerson { id, name, secret, role })
}

/// Writes a phone.
pub(super) fn put_device(sql: &mut dyn Sql, device: &Device) -> Result<(), Error> {
    let log = Value::blob(device.log.0);
    let person = Value::Blob(device.person.map(|person| person.0.to_vec()).unwrap_or_default());
    sql.run(
        "INSERT INTO device (log, label, person) VALUES ($1, $2, $3) ON CONFLICT (log) DO UPDATE SET \
         label = excluded.label, person = excluded.person",
        &[log.clone(), Value::text(&device.label), person],
    )?;
    sql.run("DELETE FROM device_area WHERE log = $1", std::slice::from_ref(&log))?;
    for (number, area) in (0_u64..).zip(&device.areas) {
        sql.run(
            "INSERT INTO device_area (log, number, area) VALUES ($1, $2, $3)",
            &[log.clone(), Value::count(number), Value::text(area)],
        )?;
    }
    Ok(())
}

/// Reads all phones, by log.
pub(super) fn devices(sql: &mut dyn Sql) -> Result<Vec<Device>, Error> {
    let rows = sql.rows("SELECT log, label, person FROM device ORDER BY log", &[])?;
    rows.into_iter().map(|row| device(sql, row)).collect()
}

fn device(sql: &mut dyn Sql, mut row: Row) -> Result<Device, Error> {
    let (log, label, person) = (row.log()?, row.text()?, row.blob()?);
    let person = <[u8; 16]>::try_from(person.as_slice()).ok().map(PersonId);
    let areas =
        sql.rows("SELECT area FROM device_area WHERE log = $1 ORDER BY number", &[Value::blob(log.0)])?;
    let areas = areas.into_iter().map(|mut row| row.text()).collect::<Result<_, _>>()?;
    Ok(Device { log, label, person, areas })
}
