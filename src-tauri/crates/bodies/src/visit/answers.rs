//! Pieces of evidence and answers.

use domain::visit::{Answered, Key, Moment, Piece, PieceId, Spot};
use minicbor::data::Int;

use super::words;
use crate::Error;
use crate::codec::{Out, Read, Written, read_measured, row, text, write_measured};

/// Writes `[number, kind, timing]`.
pub(super) fn write_piece(out: &mut Out, piece: &Piece) -> Written {
    out.array(3)?.u32(piece.id.0)?;
    Ok(out.str(words::of_kind(piece.kind))?.str(words::of_timing(piece.timing))?.ok()?)
}

/// Reads a piece of evidence of a kind that the body's version has.
pub(super) fn read_piece(from: &mut Read<'_>, version: u32) -> Result<Piece, Error> {
    let place = "piece";
    row(from, 3, place)?;
    Ok(Piece {
        id: PieceId(from.u32().map_err(|_| Error::at(place))?),
        kind: words::kind(&text(from, place)?, version).ok_or(Error::at("piece.kind"))?,
        timing: words::timing(&text(from, place)?).ok_or(Error::at("piece.timing"))?,
    })
}

/// Writes `[key, piece, row, text, time]`, with number and unit behind where the text was read as one. The time
/// is in milliseconds after the visit began, which is four bytes shorter than a date.
pub(super) fn write(out: &mut Out, answer: &Answered, begun: Moment) -> Written {
    let Spot { piece, key, row } = answer.spot;
    out.array(if answer.value.is_some() { 7 } else { 5 })?;
    out.u16(key.code())?.u32(piece.0)?.u32(row)?.str(&answer.text)?;
    let after = i128::from(answer.at.0) - i128::from(begun.0);
    // The difference of two 64-bit numbers always fits: CBOR's whole numbers go to 64 bits on either side.
    let after = Int::try_from(after).map_err(|error| Error::Writing(error.to_string()))?;
    out.int(after)?;
    answer.value.as_ref().map_or(Ok(()), |value| write_measured(out, value))
}

/// Reads an answer.
pub(super) fn read(from: &mut Read<'_>, begun: Moment) -> Result<Answered, Error> {
    let place = "answer";
    let bad = |_| Error::at(place);
    let length = from.array().map_err(bad)?;
    if !matches!(length, Some(5 | 7)) {
        return Err(Error::at(place));
    }
    let code = from.u16().map_err(bad)?;
    let key = Key::from_code(code).ok_or(Error::Newer { what: "answer", number: u64::from(code) })?;
    let (piece, line) = (PieceId(from.u32().map_err(bad)?), from.u32().map_err(bad)?);
    let text = text(from, place)?;
    let after = i128::from(from.int().map_err(bad)?);
    let at = i64::try_from(i128::from(begun.0) + after).map_err(|_| Error::at("answer.time"))?;
    let value = if length == Some(7) { Some(read_measured(from, "answer.value")?) } else { None };
    Ok(Answered { spot: Spot { piece, key, row: line }, text, at: Moment(at), value })
}
