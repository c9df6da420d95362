//! The rows of entries, and of what they are found by.

use std::collections::{BTreeMap, BTreeSet};

use bodies::{PhotoHash, VISIT};
use record::LogId;

use super::{Column, Insert, Lookup, Row, Sql, Value};
use crate::plan::Placed;
use crate::{Arrival, Cited, Error, Receipted, StoredEntry, TagKey, VisitLine};

/// The columns of an entry as [`stored`] reads them.
pub(super) const COLUMNS: &str =
    "entry.arrival, entry.log, entry.seq, entry.hash, entry.previous, entry.kind, entry.bytes";

/// Entries by identity.
pub(super) const ENTRY: Lookup = Lookup {
    select: COLUMNS,
    table: "entry",
    keys: &[Column::Blob("log"), Column::Int("seq"), Column::Blob("hash")],
};

/// Entries by number.
pub(super) const BY_ARRIVAL: Lookup =
    Lookup { select: COLUMNS, table: "entry", keys: &[Column::Int("arrival")] };

/// Identities by place.
pub(super) const PLACE: Lookup = Lookup {
    select: "entry.log, entry.seq, entry.hash",
    table: "entry",
    keys: &[Column::Blob("log"), Column::Int("seq")],
};

const KEEP: Insert = Insert {
    table: "entry",
    columns: &[
        Column::Int("arrival"),
        Column::Blob("log"),
        Column::Int("seq"),
        Column::Blob("hash"),
        Column::Blob("previous"),
        Column::Int("kind"),
        Column::Int("size"),
        Column::Blob("bytes"),
    ],
    conflict: "",
};

const VISIT_ROW: Insert = Insert {
    table: "visit",
    columns: &[
        Column::Int("arrival"),
        Column::Blob("log"),
        Column::Int("seq"),
        Column::Blob("hash"),
        Column::Text("tag_key"),
        Column::Text("tag"),
        Column::Text("site"),
        Column::Int("claimed"),
        Column::Text("verdict"),
        Column::Blob("technician"),
        Column::Text("confirmed"),
        Column::Int("model"),
    ],
    conflict: "",
};

/// A job of which nobody has taken hold.
pub(super) const JOB: Insert = Insert {
    table: "job",
    columns: &[Column::Int("arrival"), Column::Int("until"), Column::Int("tries")],
    conflict: "ON CONFLICT (arrival) DO UPDATE SET until = excluded.until, tries = excluded.tries",
};

const CONCERN: Insert = Insert {
    table: "concern",
    columns: &[Column::Blob("log"), Column::Int("arrival")],
    conflict: "ON CONFLICT DO NOTHING",
};

/// A photo that is cited. What was said of it first stands until its bytes are here and tell their length.
pub(super) const PHOTO: Insert = Insert {
    table: "photo",
    columns: &[Column::Blob("hash"), Column::Int("length"), Column::Text("media"), Column::Int("whole")],
    conflict: "ON CONFLICT DO NOTHING",
};

const CITE: Insert = Insert {
    table: "cite",
    columns: &[Column::Blob("log"), Column::Blob("photo"), Column::Int("arrival")],
    conflict: "ON CONFLICT (log, photo) DO UPDATE SET arrival = excluded.arrival",
};

/// Reads an entry.
pub(super) fn stored(mut row: Row) -> Result<StoredEntry, Error> {
    Ok(StoredEntry {
        arrival: row.arrival()?,
        id: row.id()?,
        previous: row.previous()?,
        kind: row.kind()?,
        bytes: row.blob()?,
    })
}

/// What many entries bring, table by table.
#[derive(Default)]
struct Rows {
    entries: Vec<Vec<Value>>,
    visits: Vec<Vec<Value>>,
    jobs: Vec<Vec<Value>>,
    concerns: Vec<Vec<Value>>,
    photos: Vec<Vec<Value>>,
    /// Of two citations by one log the later counts.
    cites: BTreeMap<(LogId, PhotoHash), Arrival>,
    receipts: Vec<(LogId, Receipted, Arrival)>,
}

/// Keeps entries and what they are found by.
pub(super) fn keep(sql: &mut dyn Sql, placed: Vec<Placed>) -> Result<(), Error> {
    let mut rows = Rows::default();
    placed.into_iter().for_each(|placed| rows.take(placed));
    let cites: Vec<Vec<Value>> = rows.cites.iter().map(cite_row).collect();
    sql.insert(KEEP, &rows.entries)?;
    sql.insert(VISIT_ROW, &rows.visits)?;
    sql.insert(JOB, &rows.jobs)?;
    sql.insert(CONCERN, &rows.concerns)?;
    sql.insert(PHOTO, &rows.photos)?;
    sql.insert(CITE, &cites)?;
    rows.receipts.iter().try_for_each(|(signer, receipt, arrival)| file(sql, *signer, receipt, *arrival))
}

fn cite_row(((log, photo), arrival): (&(LogId, PhotoHash), &Arrival)) -> Vec<Value> {
    vec![Value::blob(log.0), Value::blob(photo.0), Value::count(arrival.0)]
}

impl Rows {
    fn take(&mut self, placed: Placed) {
        let Placed { arrival, entry } = placed;
        let number = Value::count(arrival.0);
        let [log, seq, hash] = Value::id(entry.id);
        if let Some(line) = &entry.index.visit {
            let id = [log.clone(), seq.clone(), hash.clone()];
            self.visits.push(visit_row(number.clone(), id, line));
        }
        if entry.kind == VISIT {
            self.jobs.push(vec![number.clone(), Value::Int(i64::MIN), Value::Int(0)]);
        }
        let concerned: BTreeSet<Vec<u8>> = entry
            .index
            .concerns
            .iter()
            .map(|log| log.0.to_vec())
            .chain(entry.index.everyone.then(Vec::new))
            .collect();
        self.concerns.extend(concerned.into_iter().map(|who| vec![Value::Blob(who), number.clone()]));
        for cited in &entry.index.photos {
            self.photos.push(photo_row(cited, false));
            self.cites.insert((entry.id.log, cited.photo), arrival);
        }
        self.receipts.extend(entry.index.receipt.map(|receipt| (entry.id.log, receipt, arrival)));
        let previous = Value::previous(entry.previous);
        let (kind, size) = (Value::Int(i64::from(entry.kind.0)), Value::count(entry.bytes.len() as u64));
        self.entries.push(vec![number, log, seq, hash, previous, kind, size, Value::Blob(entry.bytes)]);
    }
}

fn visit_row(arrival: Value, [log, seq, hash]: [Value; 3], line: &VisitLine) -> Vec<Value> {
    vec![
        arrival,
        log,
        seq,
        hash,
        Value::text(TagKey::of(&line.tag).text()),
        Value::text(&line.tag),
        Value::text(&line.site),
        Value::Int(line.claimed),
        Value::text(&line.verdict),
        Value::blob(line.technician.0),
        Value::text(line.confirmed.word()),
        Value::Int(i64::from(line.model)),
    ]
}

/// The row of a photo.
pub(super) fn photo_row(cited: &Cited, whole: bool) -> Vec<Value> {
    vec![
        Value::blob(cited.photo.0),
        Value::count(cited.length),
        Value::text(&cited.media),
        Value::flag(whole),
    ]
}

/// Files a receipt in place of the one before, of which nobody needs to hear any more.
fn file(sql: &mut dyn Sql, signer: LogId, receipt: &Receipted, arrival: Arrival) -> Result<(), Error> {
    let about = Value::blob(receipt.log.0);
    let filed = [about.clone(), Value::blob(signer.0), Value::text(&receipt.grade)];
    let older =
        sql.row("SELECT arrival FROM receipt WHERE log = $1 AND signer = $2 AND grade = $3", &filed)?;
    if let Some(mut older) = older {
        let concern = [about.clone(), Value::count(older.count()?)];
        sql.run("DELETE FROM concern WHERE log = $1 AND arrival = $2", &concern)?;
    }
    let [about_log, signer, grade] = filed;
    sql.run(
        "INSERT INTO receipt (log, signer, grade, arrival) VALUES ($1, $2, $3, $4) \
         ON CONFLICT (log, signer, grade) DO UPDATE SET arrival = excluded.arrival",
        &[about_log, signer, grade, Value::count(arrival.0)],
    )?;
    sql.insert(CONCERN, &[vec![about, Value::count(arrival.0)]])
}
