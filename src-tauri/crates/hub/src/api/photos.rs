//! Photos, in a lane of their own: pieces of 256 KiB, from where the hub stands; the whole is hashed here.

use std::collections::BTreeSet;

use axum::body::{Body, Bytes};
use axum::extract::{Path, State};
use axum::http::{HeaderMap, HeaderName, HeaderValue, StatusCode, header};
use axum::response::{IntoResponse, Response};
use bodies::{PHOTO_BYTES, PhotoHash};
use futures_util::StreamExt;
use hubstore::{PIECE, PhotoRow, Photos, Piece, Taken, photo_named, piece_count};

use super::allowed::{Allowed, Looking};
use super::{App, Problem, ProblemBody};
use crate::lost::asked_again;

/// Says how many bytes from the photo's start are here.
const OFFSET: HeaderName = HeaderName::from_static("x-headmark-offset");
/// Says whether all of it is here and was found right.
const WHOLE: HeaderName = HeaderName::from_static("x-headmark-whole");
/// What may be given out under its own name; everything else is bytes.
const PICTURES: [&str; 4] = ["image/jpeg", "image/png", "image/webp", "image/heic"];

/// Reads a photo's name. It is the only thing of a request that a path is ever made of, and only hex digits pass.
fn name(text: &str) -> Result<PhotoHash, Problem> {
    photo_named(text)
        .ok_or_else(|| Problem::bad("A photo is named by the 64 small hexadecimal digits of its BLAKE3."))
}

fn not_cited() -> Problem {
    Problem::not_found("No record here cites this photo. Send the record first.")
}

/// How far a photo is here: its first bytes without a gap, or all of it.
struct Stands {
    offset: u64,
    whole: bool,
}

impl Stands {
    fn of(row: &PhotoRow) -> Stands {
        let first_missing = (0..piece_count(row.cited.length))
            .find(|piece| !u32::try_from(*piece).is_ok_and(|piece| row.pieces.contains(&piece)));
        match first_missing {
            _ if row.whole => Stands { offset: row.cited.length, whole: true },
            Some(piece) => Stands { offset: piece * PIECE, whole: false },
            None => Stands { offset: 0, whole: false },
        }
    }

    fn answer(&self, status: StatusCode) -> Response {
        let whole = HeaderValue::from_static(if self.whole { "true" } else { "false" });
        (status, [(OFFSET, HeaderValue::from(self.offset)), (WHOLE, whole)]).into_response()
    }
}

/// Refuses a length that no photo has, before anything is made by it.
fn bounded(photo: PhotoHash, length: u64) -> Result<(), Problem> {
    if length > PHOTO_BYTES { Err(hubstore::Error::PhotoTooLong { photo }.into()) } else { Ok(()) }
}

async fn row(app: &App, photo: PhotoHash) -> Result<PhotoRow, Problem> {
    app.hub().store.photo(photo).await?.ok_or_else(not_cited)
}

/// How far a photo is here when this is its length.
async fn stands_as(app: &App, photo: PhotoHash, length: u64) -> Result<Stands, Problem> {
    let row = app.hub().store.photo_as(photo, length).await?.ok_or_else(not_cited)?;
    Ok(Stands::of(&row))
}

/// How far a photo is here whatever its length is: of all that records say, where least is here. Whoever asks has one of
/// them, and is not told to leave out what only came of another.
async fn stands(app: &App, photo: PhotoHash) -> Result<Stands, Problem> {
    let first = row(app, photo).await?;
    let stands = Stands::of(&first);
    let length = first.cited.length;
    if first.whole || (stands.offset == 0 && length <= PHOTO_BYTES) {
        return Ok(stands);
    }
    let citations = app.hub().store.citations(photo).await?;
    let lengths: BTreeSet<u64> = citations.iter().map(|citation| citation.length).chain([length]).collect();
    let mut least: Option<Stands> = None;
    for length in lengths.into_iter().filter(|length| *length <= PHOTO_BYTES) {
        let stands = stands_as(app, photo, length).await?;
        least = Some(least.filter(|least| least.offset <= stands.offset).unwrap_or(stands));
    }
    // Where all are too long that is told before a piece goes out for nothing.
    least.ok_or_else(|| hubstore::Error::PhotoTooLong { photo }.into())
}

/// Says how much of a photo is here: `x-headmark-offset`, bytes from its start; `x-headmark-whole`, `true` or `false`. Where
/// records name several lengths, it is the least that is here of any.
#[utoipa::path(
    head, path = "/photos/{photo}", tag = "photos", params(("photo" = String, Path, description = "BLAKE3, 64 hexadecimal digits")),
    responses(
        (status = 200, description = "It is cited"),
        (status = 404, description = "No record here cites it"),
        (status = 413, description = "Records say that it is longer than the 256 MiB that are kept of a photo, and none says less"),
    )
)]
pub(super) async fn head_photo(
    State(app): State<App>,
    Path(photo): Path<String>,
) -> Result<Response, Problem> {
    Ok(stands(&app, name(&photo)?).await?.answer(StatusCode::OK))
}

/// Takes a piece of a photo: 256 KiB from a whole multiple of that on; the last one may be shorter. A piece may come
/// twice.
#[utoipa::path(
    put, path = "/photos/{photo}", tag = "photos",
    params(
        ("photo" = String, Path, description = "BLAKE3, 64 hexadecimal digits"),
        ("content-range" = String, Header, description = "bytes FIRST-LAST/LENGTH"),
    ),
    request_body(content = Vec<u8>, content_type = "application/octet-stream"),
    responses(
        (status = 200, description = "It is here; the headers say how far the photo is"),
        (status = 404, description = "No record here cites it", body = ProblemBody),
        (status = 409, description = "The pieces do not come to the photo and were dropped, or no record says that it has this length"),
        (status = 413, description = "It is longer than the 256 MiB that are kept of a photo", body = ProblemBody),
        (status = 416, description = "No piece begins there; the headers say where to go on"),
        (status = 507, description = "The hub's storage is full", body = ProblemBody),
    )
)]
pub(super) async fn put_photo(
    State(app): State<App>,
    Path(photo): Path<String>,
    headers: HeaderMap,
    body: Bytes,
) -> Result<Response, Problem> {
    let photo = name(&photo)?;
    let range = headers.get(header::CONTENT_RANGE).and_then(|range| range.to_str().ok()).and_then(read_range);
    let range = range
        .ok_or_else(|| Problem::bad("Say which piece it is: content-range: bytes FIRST-LAST/LENGTH."))?;
    bounded(photo, range.length)?;
    let before = row(&app, photo).await?;
    if before.whole {
        return Ok(Stands::of(&before).answer(StatusCode::OK));
    }
    let length = body.len() as u64;
    let number = u32::try_from(range.first / PIECE).ok().filter(|_| range.first % PIECE == 0);
    let status = match number {
        _ if range.last - range.first + 1 != length => StatusCode::CONFLICT,
        None => StatusCode::RANGE_NOT_SATISFIABLE,
        Some(number) => {
            let piece = Piece { photo, of: range.length, number };
            match app.photos().take_piece(&app.hub().store, piece, body).await {
                Ok(Taken::Whole | Taken::Waiting(_)) => StatusCode::OK,
                Err(hubstore::Error::NotAPiece { .. }) => StatusCode::RANGE_NOT_SATISFIABLE,
                Err(hubstore::Error::WrongPhoto { .. } | hubstore::Error::OtherLength { .. }) => {
                    StatusCode::CONFLICT
                }
                Err(error) => return Err(error.into()),
            }
        }
    };
    if status == StatusCode::OK {
        app.counts().photo_bytes.inc_by(length);
    }
    Ok(stands_as(&app, photo, range.length).await?.answer(status))
}

/// Gives a photo to somebody who is signed in. One that is found lost or spoilt is not given to its end, and is asked for again
/// from the phones that name it.
#[utoipa::path(
    get, path = "/photos/{photo}", tag = "photos", params(("photo" = String, Path, description = "BLAKE3, 64 hexadecimal digits")),
    responses((status = 200, content_type = "image/jpeg", body = Vec<u8>), (status = 404, body = ProblemBody))
)]
pub(super) async fn get_photo(
    State(app): State<App>,
    _: Allowed<Looking>,
    Path(photo): Path<String>,
) -> Result<Response, Problem> {
    let photo = name(&photo)?;
    let row = row(&app, photo).await?;
    if !row.whole {
        return Err(Problem::not_found("This photo has not come yet. Have the phone send it."));
    }
    let Some(bytes) = app.photos().read(photo).await? else {
        let lost = asked_again(&app.hub().store, app.photos(), photo).await?;
        let text = lost.map(|lost| lost.to_string());
        return Err(Problem::not_found(
            text.as_deref().unwrap_or("This photo has just come anew. Ask again."),
        ));
    };
    let bytes = bytes.then(move |part| {
        let app = app.clone();
        async move {
            if matches!(part, Err(hubstore::Error::WrongPhoto { .. }))
                && let Err(error) = asked_again(&app.hub().store, app.photos(), photo).await
            {
                tracing::error!(%error, "a spoilt photo could not be asked for again; a backup tries it once more");
            }
            part
        }
    });
    let media =
        PICTURES.into_iter().find(|media| *media == row.cited.media).unwrap_or("application/octet-stream");
    Ok(([(header::CONTENT_TYPE, HeaderValue::from_static(media))], Body::from_stream(bytes)).into_response())
}

/// A range of bytes as a header says it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Range {
    first: u64,
    last: u64,
    length: u64,
}

fn read_range(text: &str) -> Option<Range> {
    let (places, length) = text.strip_prefix("bytes ")?.split_once('/')?;
    let (first, last) = places.split_once('-')?;
    let number =
        |text: &str| text.bytes().all(|byte| byte.is_ascii_digit()).then(|| text.parse().ok()).flatten();
    let range = Range { first: number(first)?, last: number(last)?, length: number(length)? };
    (range.first <= range.last && range.last < range.length).then_some(range)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case("bytes 0-9/10", Some((0, 9, 10)))]
    #[case("bytes 262144-262144/262145", Some((262_144, 262_144, 262_145)))]
    #[case("bytes 0-10/10", None)]
    #[case("bytes 9-0/10", None)]
    #[case("bytes +0-9/10", None)]
    #[case("bytes 0-9/*", None)]
    #[case("bytes 0-18446744073709551616/18446744073709551617", None)]
    #[case("0-9/10", None)]
    #[case("", None)]
    fn a_range_is_within_its_photo(#[case] text: &str, #[case] range: Option<(u64, u64, u64)>) {
        assert_eq!(read_range(text), range.map(|(first, last, length)| Range { first, last, length }));
    }
}
