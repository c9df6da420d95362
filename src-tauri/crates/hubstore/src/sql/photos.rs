//! What is known of photos.

use std::collections::{BTreeMap, BTreeSet};

use bodies::PhotoHash;
use record::LogId;

use super::{Backend, Column, Database, Lookup, Row, Sql, Value};
use crate::{Cited, Error, PhotoRow, Photos};

const WHOLE: Lookup =
    Lookup { select: "photo.hash, photo.whole", table: "photo", keys: &[Column::Blob("hash")] };

impl<B: Backend> Photos for Database<B> {
    async fn photo(&self, photo: PhotoHash) -> Result<Option<PhotoRow>, Error> {
        self.read(move |sql| {
            let select = "SELECT hash, length, media, whole FROM photo WHERE hash = $1";
            let Some(mut row) = sql.row(select, &[Value::blob(photo.0)])? else { return Ok(None) };
            let (cited, whole) = (cited(&mut row)?, row.flag()?);
            Ok(Some(PhotoRow { cited, whole, pieces: pieces(sql, photo)? }))
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

    async fn piece_came(&self, photo: PhotoHash, piece: u32) -> Result<(), Error> {
        self.write(move |sql| {
            if !is_whole(sql, photo)? {
                let insert = "INSERT INTO piece (photo, number) VALUES ($1, $2) ON CONFLICT DO NOTHING";
                sql.run(insert, &[Value::blob(photo.0), Value::Int(piece.into())])?;
            }
            Ok(())
        })
        .await
    }

    async fn forget_pieces(&self, photo: PhotoHash) -> Result<(), Error> {
        self.write(move |sql| {
            is_whole(sql, photo)?;
            drop_pieces(sql, photo)
        })
        .await
    }

    async fn set_whole(&self, photo: PhotoHash, whole: bool) -> Result<(), Error> {
        self.write(move |sql| {
            let update = "UPDATE photo SET whole = $2 WHERE hash = $1";
            if sql.run(update, &[Value::blob(photo.0), Value::flag(whole)])? == 0 {
                return Err(Error::NotCited { photo });
            }
            drop_pieces(sql, photo)
        })
        .await
    }
}

fn drop_pieces(sql: &mut dyn Sql, photo: PhotoHash) -> Result<(), Error> {
    sql.run("DELETE FROM piece WHERE photo = $1", &[Value::blob(photo.0)]).map(drop)
}

fn is_whole(sql: &mut dyn Sql, photo: PhotoHash) -> Result<bool, Error> {
    let row = sql.row("SELECT whole FROM photo WHERE hash = $1", &[Value::blob(photo.0)])?;
    row.ok_or(Error::NotCited { photo })?.flag()
}

fn pieces(sql: &mut dyn Sql, photo: PhotoHash) -> Result<BTreeSet<u32>, Error> {
    let rows = sql.rows("SELECT number FROM piece WHERE photo = $1", &[Value::blob(photo.0)])?;
    rows.into_iter().map(|mut row| row.small()).collect()
}

/// Reads what is said of a photo.
pub(super) fn cited(row: &mut Row) -> Result<Cited, Error> {
    Ok(Cited { photo: row.photo()?, length: row.count()?, media: row.text()? })
}
