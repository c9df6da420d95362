//! What the register says to find an instrument by: where it stands, and what is to be done there.
//!
//! It lies beside the register's long sheets, so that a list needs not read them; it comes and goes with its row.

use domain::quantity::{LengthSystem, Position};
use domain::visit::{Instrument, tag};
use rusqlite::{Connection, Row, params};
use uom::si::angle::degree;

use crate::seal::Seal;
use crate::{Error, Store, TagKey};

/// Where an instrument stands and what is to be done there.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Whereabouts {
    /// The tag, folded.
    pub key: TagKey,
    /// As the register writes it.
    pub position: String,
    /// The day its next visit is due.
    pub due: String,
    /// Why it stands on the work list.
    pub work: String,
    /// True where people count in feet.
    pub feet: bool,
}

impl Whereabouts {
    /// Returns what a row says; none where it says nothing.
    #[must_use]
    pub fn of(row: &Instrument) -> Option<Whereabouts> {
        let text = |text: &str| text.trim().to_owned();
        let whereabouts = Whereabouts {
            key: TagKey(tag::folded(&row.tag)),
            position: text(&row.position),
            due: text(&row.due),
            work: text(&row.work),
            feet: LengthSystem::from_word(row.site.lengths.trim()) == Some(LengthSystem::Feet),
        };
        let parts = [&whereabouts.position, &whereabouts.due, &whereabouts.work];
        parts.iter().any(|part| !part.is_empty()).then_some(whereabouts)
    }

    /// Returns the position; none where the register gives none that can be read.
    #[must_use]
    pub fn position(&self) -> Option<Position> {
        Position::read(&self.position)
    }

    /// The latitude in millionths of a degree, rounded down. No map gives more than 90 000 000.
    fn latitude(&self) -> Option<i64> {
        self.position().map(|position| micro(position.latitude.get::<degree>()))
    }
}

#[allow(clippy::cast_possible_truncation, reason = "degrees are within 90 either way")]
fn micro(degrees: f64) -> i64 {
    (degrees * 1e6).floor() as i64
}

impl Store {
    /// Returns the instruments with a position whose latitude is within so many degrees of a latitude, by their
    /// folded tags. A little more may come.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when a row is not as it was written, and what storage gives.
    pub fn standing_within(&self, position: Position, degrees: f64) -> Result<Vec<Whereabouts>, Error> {
        let latitude = position.latitude.get::<degree>();
        let (from, to) = (micro(latitude - degrees) - 1, micro(latitude + degrees) + 1);
        self.found("latitude BETWEEN ?1 AND ?2 ORDER BY tag_key", params![from, to])
    }

    /// Returns the instruments that have a reason to stand on the work list, or are due up to a day, written like
    /// `2026-12-09`, by day and folded tag; those without a day first.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when a row is not as it was written, and what storage gives.
    pub fn to_do_until(&self, day: &str) -> Result<Vec<Whereabouts>, Error> {
        let condition = "(work <> '' OR (due <> '' AND due <= ?1)) ORDER BY due, tag_key";
        self.found(condition, params![day])
    }

    fn found(&self, condition: &str, with: &[&dyn rusqlite::ToSql]) -> Result<Vec<Whereabouts>, Error> {
        self.read(|connection| {
            let sql =
                format!("SELECT tag_key, position, due, work, feet, seal FROM whereabouts WHERE {condition}");
            let mut statement = connection.prepare_cached(&sql)?;
            let rows = statement.query_map(with, |row| Ok((raw(row)?, row.get::<_, Vec<u8>>(5)?)))?;
            rows.map(|row| {
                let (whereabouts, stored) = row?;
                seal(&whereabouts).check(&stored, "where an instrument stands")?;
                Ok(whereabouts)
            })
            .collect()
        })
    }
}

/// Puts a row in, in place of the one there was.
pub(crate) fn put(connection: &Connection, whereabouts: &Whereabouts) -> Result<(), Error> {
    connection
        .prepare_cached(
            "INSERT INTO whereabouts (tag_key, position, latitude, due, work, feet, seal) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) ON CONFLICT (tag_key) DO UPDATE SET \
             position = excluded.position, latitude = excluded.latitude, due = excluded.due, \
             work = excluded.work, feet = excluded.feet, seal = excluded.seal",
        )?
        .execute(params![
            whereabouts.key.0,
            whereabouts.position,
            whereabouts.latitude(),
            whereabouts.due,
            whereabouts.work,
            whereabouts.feet,
            seal(whereabouts).done()
        ])?;
    Ok(())
}

fn raw(row: &Row<'_>) -> rusqlite::Result<Whereabouts> {
    Ok(Whereabouts {
        key: TagKey(row.get(0)?),
        position: row.get(1)?,
        due: row.get(2)?,
        work: row.get(3)?,
        feet: row.get(4)?,
    })
}

fn seal(whereabouts: &Whereabouts) -> Seal {
    Seal::of("whereabouts")
        .text(&whereabouts.key.0)
        .text(&whereabouts.position)
        .text(&whereabouts.due)
        .text(&whereabouts.work)
        .number(i64::from(whereabouts.feet))
}
