//! The newest receipt of each issuer for each log, epoch and grade: a view of the receipts in the log.

use bodies::{Grade, HeldRun, Receipt};
use rusqlite::{Connection, OptionalExtension, params};

use crate::seal::Seal;
use crate::{Error, LogId, PayloadHash, Place, Seq};

/// Takes a receipt into the view; an older one than is there, and one that names photos alone, add only the photos that
/// they name.
pub(crate) fn put(
    connection: &Connection,
    issued: Place,
    hash: PayloadHash,
    receipt: &Receipt,
) -> Result<(), Error> {
    let of = Of::receipt(issued.log, receipt);
    for photo in &receipt.photos {
        super::photo::put(connection, photo, &of)?;
    }
    if receipt.names_photos_alone() {
        return Ok(());
    }
    let newest: Option<Seq> = connection
        .prepare_cached(
            "SELECT seq FROM receipt WHERE log = ?1 AND epoch = ?2 AND grade = ?3 AND issuer = ?4",
        )?
        .query_row(params![of.log, of.epoch, of.grade, of.issuer], |row| row.get(0))
        .optional()?;
    if newest.is_some_and(|newest| newest >= issued.seq) {
        return Ok(());
    }
    replace(connection, &of, issued.seq, hash)?;
    for run in &receipt.runs {
        put_run(connection, &of, run)?;
    }
    Ok(())
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
