//! The newest receipt of each issuer for each log, epoch and grade: a view of the receipts in the log.

use bodies::{Grade, HeldRun, RECEIPT_PHOTOS, Receipt};
use rusqlite::{Connection, OptionalExtension, params};

use super::photo;
use crate::seal::Seal;
use crate::{Error, LogId, PayloadHash, Place, Seq, log};

/// Takes a receipt into the view. The newest takes the place of the one before, and photos that it does not name any more are
/// taken back where it names all there are. One that names photos alone adds those; an older one only what the newest had no
/// room for.
pub(crate) fn put(
    connection: &Connection,
    issued: Place,
    hash: PayloadHash,
    receipt: &Receipt,
) -> Result<(), Error> {
    let of = Of::receipt(issued.log, receipt);
    let newest = newest_of(connection, &of, of.grade)?;
    if receipt.names_photos_alone() {
        return photo::name(connection, &receipt.photos, &of, issued.seq);
    }
    if let Some(newest) = newest.filter(|(seq, _)| *seq >= issued.seq) {
        let complete = of_entry(connection, &of, newest)?.is_some_and(|newest| names_all(&newest));
        return if complete { Ok(()) } else { photo::name(connection, &receipt.photos, &of, issued.seq) };
    }
    photo::name(connection, &receipt.photos, &of, issued.seq)?;
    if let Some(before) = newest.filter(|_| names_all(receipt)) {
        let before = of_entry(connection, &of, before)?.map(|before| before.photos).unwrap_or_default();
        before.difference(&receipt.photos).try_for_each(|photo| photo::take_back(connection, photo, &of))?;
    }
    replace(connection, &of, issued.seq, hash)?;
    for run in &receipt.runs {
        put_run(connection, &of, run)?;
    }
    Ok(())
}

/// Whether a receipt names all photos of its log that are held: it had room for more.
fn names_all(receipt: &Receipt) -> bool {
    receipt.photos.len() < RECEIPT_PHOTOS
}

/// The place and payload of the newest receipt of a grade that was given by whoever gave this one.
pub(super) fn newest_of(
    connection: &Connection,
    of: &Of,
    grade: &str,
) -> Result<Option<(Seq, PayloadHash)>, Error> {
    let newest = connection
        .prepare_cached(
            "SELECT seq, hash FROM receipt WHERE log = ?1 AND epoch = ?2 AND grade = ?3 AND issuer = ?4",
        )?
        .query_row(params![of.log, of.epoch, grade, of.issuer], |row| Ok((row.get(0)?, row.get(1)?)))
        .optional()?;
    Ok(newest)
}

/// What a receipt said, as it stands in its issuer's log.
fn of_entry(
    connection: &Connection,
    of: &Of,
    (seq, hash): (Seq, PayloadHash),
) -> Result<Option<Receipt>, Error> {
    let entry = match log::with_payload(connection, Place { log: of.issuer, seq }, hash) {
        // One that is damaged keeps no other from coming.
        Err(Error::Unreadable { .. }) => None,
        entry => entry?,
    };
    let read = |entry: &log::Entry| Receipt::of_entry(&record::open(&entry.entry.bytes).ok()?).ok();
    Ok(entry.as_ref().and_then(read))
}

/// What a receipt is about.
pub(super) struct Of {
    pub(super) issuer: LogId,
    pub(super) epoch: Vec<u8>,
    pub(super) log: LogId,
    pub(super) grade: &'static str,
}

impl Of {
    fn receipt(issuer: LogId, receipt: &Receipt) -> Of {
        let epoch = receipt.epoch.map_or_else(Vec::new, |epoch| epoch.0.to_vec());
        Of { issuer, epoch, log: LogId::of(receipt.log), grade: receipt.grade.word() }
    }

    pub(super) fn seal(&self, table: &str) -> Seal {
        Seal::of(table).bytes(&self.issuer.0).bytes(&self.epoch).bytes(&self.log.0).text(self.grade)
    }
}

fn replace(connection: &Connection, of: &Of, seq: Seq, hash: PayloadHash) -> Result<(), Error> {
    connection
        .prepare_cached(
            "DELETE FROM receipt_run WHERE log = ?1 AND epoch = ?2 AND grade = ?3 AND issuer = ?4",
        )?
        .execute(params![of.log, of.epoch, of.grade, of.issuer])?;
    let seal = of.seal("receipt").bytes(&seq.0.to_be_bytes()).bytes(&hash.0);
    connection
        .prepare_cached(
            "INSERT INTO receipt (issuer, epoch, log, grade, seq, hash, seal) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7) ON CONFLICT (log, epoch, grade, issuer) DO UPDATE SET \
             seq = excluded.seq, hash = excluded.hash, seal = excluded.seal",
        )?
        .execute(params![of.issuer, of.epoch, of.log, of.grade, seq, hash, seal.done()])?;
    Ok(())
}

fn put_run(connection: &Connection, of: &Of, run: &HeldRun) -> Result<(), Error> {
    let seal = run_seal(of, run);
    connection
        .prepare_cached(
            "INSERT INTO receipt_run (issuer, epoch, log, grade, first, last, finish, seal) \
             VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)",
        )?
        .execute(params![
            of.issuer,
            of.epoch,
            of.log,
            of.grade,
            Seq::of(run.from),
            Seq::of(run.to),
            PayloadHash::of(run.end),
            seal.done()
        ])?;
    Ok(())
}

pub(super) fn run_seal(of: &Of, run: &HeldRun) -> Seal {
    of.seal("receipt_run")
        .bytes(&run.from.get().to_be_bytes())
        .bytes(&run.to.get().to_be_bytes())
        .bytes(&run.end.0)
}

/// Returns the payloads of the hub's newest receipts for a log in an epoch, one of each grade.
pub(crate) fn newest(connection: &Connection, log: LogId, epoch: &[u8]) -> Result<Vec<PayloadHash>, Error> {
    let mut statement = connection.prepare_cached(
        "SELECT issuer, grade, seq, hash, seal FROM receipt WHERE log = ?1 AND epoch = ?2 AND grade <> ?3 \
         AND issuer IN (SELECT log FROM hub_log WHERE epoch = ?2) ORDER BY grade, issuer",
    )?;
    let rows = statement.query_map(params![log, epoch, Grade::Relayed.word()], |row| {
        let of = (row.get::<_, LogId>(0)?, row.get::<_, String>(1)?);
        Ok((of, row.get::<_, Seq>(2)?, row.get::<_, PayloadHash>(3)?, row.get::<_, Vec<u8>>(4)?))
    })?;
    rows.map(|row| {
        let ((issuer, grade), seq, hash, stored) = row?;
        let broken = || Error::Unreadable { what: "a receipt is not as it was written".to_owned() };
        let grade = Grade::from_word(&grade).ok_or_else(broken)?.word();
        let of = Of { issuer, epoch: epoch.to_vec(), log, grade };
        of.seal("receipt").bytes(&seq.0.to_be_bytes()).bytes(&hash.0).check(&stored, "a receipt")?;
        Ok(hash)
    })
    .collect()
}
