//! Which entry names a photo, and which observations a visit names: views of the log.

use bodies::{Observation, PhotoHash, Visit};
use rusqlite::{Connection, OptionalExtension, params};

use super::row::{self, Known, PhotoState};
use crate::seal::Seal;
use crate::{Arrival, Error, PayloadHash, Store};

impl Store {
    /// Returns the photos that were taken for a draft or visit, by hash.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub fn photos_made_for(&self, draft: &str) -> Result<Vec<PhotoHash>, Error> {
        self.read(|connection| {
            let mut statement = connection.prepare_cached(
                "SELECT photo FROM photo_cite WHERE made_for = ?1 GROUP BY photo ORDER BY photo",
            )?;
            let photos = statement.query_map([draft], |row| row.get(0).map(PhotoHash))?;
            Ok(photos.collect::<Result<_, _>>()?)
        })
    }
}

/// Takes an observation into the view; a photo that is not here is awaited from now on.
pub(crate) fn observation(
    connection: &Connection,
    observation: &Observation,
    arrival: Arrival,
) -> Result<(), Error> {
    let Some(photo) = &observation.photo else { return Ok(()) };
    let made_for = &observation.made_for;
    let seal = photo_seal(photo.hash, arrival, made_for);
    connection
        .prepare_cached("INSERT INTO photo_cite (photo, arrival, made_for, seal) VALUES (?1, ?2, ?3, ?4)")?
        .execute(params![photo.hash.0, arrival.0, made_for, seal.done()])?;
    if row::row(connection, photo.hash)?.is_some() {
        return Ok(());
    }
    let media = photo.media_type.clone();
    let (hash, length) = (photo.hash, photo.length);
    row::put(connection, &Known { hash, length, media, state: PhotoState::Awaited, got: 0 })
}

/// Takes the observations that a visit names into the view.
pub(crate) fn visit(connection: &Connection, visit: &Visit, arrival: Arrival) -> Result<(), Error> {
    for observation in &visit.cited {
        let hash = PayloadHash::of(*observation);
        let seal = visit_seal(arrival, hash);
        connection
            .prepare_cached(
                "INSERT INTO visit_cite (arrival, observation, seal) VALUES (?1, ?2, ?3) \
                 ON CONFLICT (arrival, observation) DO NOTHING",
            )?
            .execute(params![arrival.0, hash, seal.done()])?;
    }
    Ok(())
}

/// Returns whether an entry names a photo.
pub(crate) fn is_named(connection: &Connection, hash: PhotoHash) -> Result<bool, Error> {
    let named = connection
        .prepare_cached("SELECT 1 FROM photo_cite WHERE photo = ?1 LIMIT 1")?
        .query_row([hash.0], |_| Ok(()))
        .optional()?;
    Ok(named.is_some())
}

/// Returns the photos that an observation names.
pub(crate) fn photos_of(connection: &Connection, observation: Arrival) -> Result<Vec<PhotoHash>, Error> {
    let mut statement =
        connection.prepare_cached("SELECT photo, made_for, seal FROM photo_cite WHERE arrival = ?1")?;
    let rows = statement.query_map([observation.0], |row| {
        Ok((row.get(0).map(PhotoHash)?, row.get::<_, String>(1)?, row.get::<_, Vec<u8>>(2)?))
    })?;
    rows.map(|row| {
        let (photo, made_for, stored) = row?;
        photo_seal(photo, observation, &made_for).check(&stored, "which photo an observation names")?;
        Ok(photo)
    })
    .collect()
}

/// Returns the observations that a visit names, by the hashes of their payloads.
pub(crate) fn observations_of(connection: &Connection, visit: Arrival) -> Result<Vec<PayloadHash>, Error> {
    let mut statement =
        connection.prepare_cached("SELECT observation, seal FROM visit_cite WHERE arrival = ?1")?;
    let rows = statement
        .query_map([visit.0], |row| Ok((row.get::<_, PayloadHash>(0)?, row.get::<_, Vec<u8>>(1)?)))?;
    rows.map(|row| {
        let (observation, stored) = row?;
        visit_seal(visit, observation).check(&stored, "which observation a visit names")?;
        Ok(observation)
    })
    .collect()
}

fn photo_seal(photo: PhotoHash, arrival: Arrival, made_for: &str) -> Seal {
    Seal::of("photo_cite").bytes(&photo.0).number(arrival.0).text(made_for)
}

fn visit_seal(arrival: Arrival, observation: PayloadHash) -> Seal {
    Seal::of("visit_cite").number(arrival.0).bytes(&observation.0)
}
