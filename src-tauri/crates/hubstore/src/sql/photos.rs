//! What is known of photos.

use std::collections::{BTreeMap, BTreeSet};

use bodies::PhotoHash;
use record::LogId;

use super::{Backend, Column, Database, Lookup, Row, Sql, Value};
use crate::index::citation;
use crate::{Citation, Cited, Error, PhotoRow, Photos};

const WHOLE: Lookup =
    Lookup { select: "photo.hash, photo.whole", table: "photo", keys: &[Column::Blob("hash")] };

impl<B: Backend> Photos for Database<B> {
    async fn photo(&self, photo: PhotoHash) -> Result<Option<PhotoRow>, Error> {
        self.read(move |sql| photo_of(sql, photo, None)).await
    }

    async fn photo_as(&self, photo: PhotoHash, length: u64) -> Result<Option<PhotoRow>, Error> {
        self.read(move |sql| photo_of(sql, photo, Some(length))).await
    }

    async fn citations(&self, photo: PhotoHash) -> Result<Vec<Citation>, Error> {
        self.read(move |sql| {
            // Log by log: citations are found by those, and there are far fewer logs than citations.
            let select = "SELECT entry.bytes FROM log CROSS JOIN cite CROSS JOIN entry WHERE cite.log = log.log \
                          AND cite.photo = $1 AND entry.arrival = cite.arrival ORDER BY entry.arrival";
            let rows = sql.rows(select, &[Value::blob(photo.0)])?;
            rows.into_iter().filter_map(|mut row| row.blob().and_then(|bytes| citation(&bytes)).transpose()).collect()
        })
        .await
    }

    async fn holds_photos(&self, photos: &[PhotoHash]) -> Result<Vec<bool>, Error> {
        let photos = photos.to_vec();
        self.read(move |sql| {
            let keys: Vec<Vec<Value>> = photos.iter().map(|photo| vec![Value::blob(photo.0)]).collect();
            let rows = sql.lookup(WHOLE, &keys)?.into_iter();
            let whole = rows.map(|mut row| Ok((row.photo()?, row.flag()?)));
            let whole = whole.collect::<Result<BTreeMap<PhotoHash, bool>, Error>>()?;
            Ok(photos.iter().map(|photo| whole.get(photo) == Some(&true)).collect())
        })
        .await
    }

    async fn photos_of(&self, log: LogId, most: u32) -> Result<Vec<(PhotoHash, bool)>, Error> {
        self.read(move |sql| {
            let select = "SELECT photo.hash, photo.whole FROM cite JOIN photo ON photo.hash = cite.photo \
                          WHERE cite.log = $1 ORDER BY cite.arrival DESC, photo.hash LIMIT $2";
            let rows = sql.rows(select, &[Value::blob(log.0), Value::Int(most.into())])?;
            rows.into_iter().map(|mut row| Ok((row.photo()?, row.flag()?))).collect()
        })
        .await
    }

    async fn missing_photos(&self, after: Option<PhotoHash>, most: u32) -> Result<Vec<Cited>, Error> {
        let after = Value::Blob(after.map(|photo| photo.0.to_vec()).unwrap_or_default());
        self.read(move |sql| {
            let select =
                "SELECT hash, length, media FROM photo WHERE whole = 0 AND hash > $1 ORDER BY hash LIMIT $2";
            let rows = sql.rows(select, &[after, Value::Int(most.into())])?;
            rows.into_iter().map(|mut row| cited(&mut row)).collect()
        })
        .await
    }

    async fn piece_came(&self, photo: PhotoHash, length: u64, piece: u32) -> Result<(), Error> {
        self.write(move |sql| {
            if !is_whole(sql, photo)? {
                let insert = "INSERT INTO piece (photo, number) VALUES ($1, $2) ON CONFLICT DO NOTHING";
                sql.run(insert, &[of_length(photo, length), Value::Int(piece.into())])?;
            }
            Ok(())
        })
        .await
    }

    async fn forget_pieces(&self, photo: PhotoHash, length: u64) -> Result<(), Error> {
        self.write(move |sql| {
            is_whole(sql, photo)?;
            sql.run("DELETE FROM piece WHERE photo = $1", &[of_length(photo, length)]).map(drop)
        })
        .await
    }

    async fn came_whole(&self, photo: PhotoHash, length: u64) -> Result<(), Error> {
        self.write(move |sql| {
            let update = "UPDATE photo SET whole = 1, length = $2 WHERE hash = $1";
            if sql.run(update, &[Value::blob(photo.0), Value::count(length)])? == 0 {
                return Err(Error::NotCited { photo });
            }
            // Of every length, and what an earlier version wrote down without one.
            let pieces = [Value::blob(photo.0), of_length(photo, u64::MAX)];
            sql.run("DELETE FROM piece WHERE photo BETWEEN $1 AND $2", &pieces).map(drop)
        })
        .await
    }

    async fn went_missing(&self, photo: PhotoHash) -> Result<(), Error> {
        self.write(move |sql| {
            let update = "UPDATE photo SET whole = 0 WHERE hash = $1";
            match sql.run(update, &[Value::blob(photo.0)])? {
                0 => Err(Error::NotCited { photo }),
                _ => Ok(()),
            }
        })
        .await
    }
}

/// What pieces of a photo of this length are filed under: its hash, and the length in eight bytes.
fn of_length(photo: PhotoHash, length: u64) -> Value {
    Value::Blob([&photo.0[..], &length.to_be_bytes()].concat())
}

fn photo_of(sql: &mut dyn Sql, photo: PhotoHash, length: Option<u64>) -> Result<Option<PhotoRow>, Error> {
    let select = "SELECT hash, length, media, whole FROM photo WHERE hash = $1";
    let Some(mut row) = sql.row(select, &[Value::blob(photo.0)])? else { return Ok(None) };
    let (mut cited, whole) = (cited(&mut row)?, row.flag()?);
    cited.length = length.filter(|_| !whole).unwrap_or(cited.length);
    let pieces = pieces(sql, photo, cited.length)?;
    Ok(Some(PhotoRow { cited, whole, pieces }))
}

fn is_whole(sql: &mut dyn Sql, photo: PhotoHash) -> Result<bool, Error> {
    let row = sql.row("SELECT whole FROM photo WHERE hash = $1", &[Value::blob(photo.0)])?;
    row.ok_or(Error::NotCited { photo })?.flag()
}

fn pieces(sql: &mut dyn Sql, photo: PhotoHash, length: u64) -> Result<BTreeSet<u32>, Error> {
    let rows = sql.rows("SELECT number FROM piece WHERE photo = $1", &[of_length(photo, length)])?;
    rows.into_iter().map(|mut row| row.small()).collect()
}

/// Reads what is said of a photo.
pub(super) fn cited(row: &mut Row) -> Result<Cited, Error> {
    Ok(Cited { photo: row.photo()?, length: row.count()?, media: row.text()? })
}
