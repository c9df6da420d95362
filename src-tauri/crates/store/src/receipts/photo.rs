//! Photos that receipts name.
//!
//! What one named stays named: a receipt has room for the newest few thousand. Only where the newest one had room for more,
//! and leaves out what the one before named, is the photo held no more: lost or spoilt. It then counts as nowhere, and the
//! phone that still has it brings it again. A photo that the hub does not hold is not called backed up either, though a
//! backup may have it: whoever freed it for that would leave the backup alone with it. So beside what is named stands what the
//! hub took back, until it names the photo again.

use std::collections::BTreeSet;

use bodies::{Grade, PhotoHash};
use rusqlite::{Connection, params};

use super::held::{Of, newest_of};
use crate::seal::Seal;
use crate::{Error, LogId, Seq, marks};

/// Stands in the place of a grade where the hub took back that it holds a photo. A version that does not know it passes over
/// it.
const TAKEN_BACK: &str = "taken_back";

/// Notes that a receipt, at this place of its issuer's log, names photos.
pub(super) fn name(
    connection: &Connection,
    photos: &BTreeSet<PhotoHash>,
    of: &Of,
    seq: Seq,
) -> Result<(), Error> {
    // What was said before the photo was taken back does not bring it back.
    let newest = newest_of(connection, of, Grade::Stored.word())?;
    let is_new = newest.is_none_or(|(newest, _)| newest <= seq);
    for photo in photos {
        put(connection, photo, of, of.grade)?;
        if is_new {
            remove(connection, photo, of, TAKEN_BACK)?;
        }
    }
    Ok(())
}

/// Notes that a receipt names a photo no more that the one before it named.
pub(super) fn take_back(connection: &Connection, photo: &PhotoHash, of: &Of) -> Result<(), Error> {
    remove(connection, photo, of, of.grade)?;
    // A newer backup may lack what the hub has; what the hub lacks counts as nowhere.
    if of.grade == Grade::Stored.word() { put(connection, photo, of, TAKEN_BACK) } else { Ok(()) }
}

fn put(connection: &Connection, photo: &PhotoHash, of: &Of, grade: &str) -> Result<(), Error> {
    let seal = seal(photo, &of.epoch, grade, of.issuer);
    connection
        .prepare_cached(
            "INSERT INTO receipt_photo (photo, epoch, grade, issuer, seal) VALUES (?1, ?2, ?3, ?4, ?5) \
             ON CONFLICT (photo, epoch, grade, issuer) DO NOTHING",
        )?
        .execute(params![photo.0, of.epoch, grade, of.issuer, seal.done()])?;
    Ok(())
}

fn remove(connection: &Connection, photo: &PhotoHash, of: &Of, grade: &str) -> Result<(), Error> {
    connection
        .prepare_cached(
            "DELETE FROM receipt_photo WHERE photo = ?1 AND epoch = ?2 AND grade = ?3 AND issuer = ?4",
        )?
        .execute(params![photo.0, of.epoch, grade, of.issuer])?;
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
    let (mut best, mut relayed, mut taken_back) = (None, None, false);
    for row in rows {
        let ((grade, epoch, issuer), stored) = row?;
        seal(&photo, &epoch, &grade, issuer).check(&stored, "a photo that a receipt names")?;
        taken_back |= grade == TAKEN_BACK;
        let grade = Grade::from_word(&grade);
        best = best.max(grade);
        relayed = relayed.max(grade.filter(|grade| *grade == Grade::Relayed));
    }
    Ok(if taken_back { relayed } else { best })
}

fn seal(photo: &PhotoHash, epoch: &[u8], grade: &str, issuer: LogId) -> Seal {
    Seal::of("receipt_photo").bytes(&photo.0).bytes(epoch).text(grade).bytes(&issuer.0)
}
