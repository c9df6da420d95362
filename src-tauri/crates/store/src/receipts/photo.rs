//! Photos that receipts name.

use bodies::{Grade, PhotoHash};
use rusqlite::{Connection, params};

use super::held::Of;
use crate::seal::Seal;
use crate::{Error, LogId, marks};

/// Notes that a receipt names a photo. A receipt names the newest few thousand, so what one named once stays named.
pub(super) fn put(connection: &Connection, photo: &PhotoHash, of: &Of) -> Result<(), Error> {
    let seal = seal(photo, &of.epoch, of.grade, of.issuer);
    connection
        .prepare_cached(
            "INSERT INTO receipt_photo (photo, epoch, grade, issuer, seal) VALUES (?1, ?2, ?3, ?4, ?5) \
             ON CONFLICT (photo, epoch, grade, issuer) DO NOTHING",
        )?
        .execute(params![photo.0, of.epoch, of.grade, of.issuer, seal.done()])?;
    Ok(())
}

/// Returns whether a photo is held elsewhere with this grade or a better one.
pub(crate) fn has_photo(connection: &Connection, photo: PhotoHash, least: Grade) -> Result<bool, Error> {
    Ok(photo_grade(connection, photo)? >= Some(least))
}

/// Returns how safely a photo is held elsewhere, by the hub in its present epoch or by any phone but this one; none where
/// nobody said so.
pub(crate) fn photo_grade(connection: &Connection, photo: PhotoHash) -> Result<Option<Grade>, Error> {
    let epoch = marks::epoch(connection)?.map_or_else(Vec::new, |epoch| epoch.0.to_vec());
    let mut statement = connection.prepare_cached(
        "SELECT grade, epoch, issuer, seal FROM receipt_photo WHERE photo = ?1 AND ( \
         (epoch = ?2 AND epoch <> x'' AND issuer IN (SELECT log FROM hub_log WHERE epoch = ?2)) \
         OR (epoch = x'' AND issuer NOT IN (SELECT log FROM identity)))",
    )?;
    let rows = statement.query_map(params![photo.0, epoch], |row| {
        let said = (row.get::<_, String>(0)?, row.get::<_, Vec<u8>>(1)?, row.get::<_, LogId>(2)?);
        Ok((said, row.get::<_, Vec<u8>>(3)?))
    })?;
    let mut best = None;
    for row in rows {
        let ((grade, epoch, issuer), stored) = row?;
        seal(&photo, &epoch, &grade, issuer).check(&stored, "a photo that a receipt names")?;
        best = best.max(Grade::from_word(&grade));
    }
    Ok(best)
}

fn seal(photo: &PhotoHash, epoch: &[u8], grade: &str, issuer: LogId) -> Seal {
    Seal::of("receipt_photo").bytes(&photo.0).bytes(epoch).text(grade).bytes(&issuer.0)
}
