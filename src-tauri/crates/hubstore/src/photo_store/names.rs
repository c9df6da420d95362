//! Where things are, made only of hex digits and numbers; and how a photo is cut.

use bodies::PhotoHash;
use object_store::path::Path;

use crate::{photo_name, photo_named};

/// Where pieces lie.
pub(super) const PIECES: &str = "pieces";

/// The length of a piece in bytes; the last may be shorter.
pub const PIECE: u64 = 256 * 1024;

/// Returns how many pieces a photo has. An empty one has one, which is empty.
#[must_use]
pub fn piece_count(length: u64) -> u64 {
    length.div_ceil(PIECE).max(1)
}

/// Returns the length of a piece, counted from 0; none behind the last.
#[must_use]
pub fn piece_length(length: u64, piece: u32) -> Option<u64> {
    let piece = u64::from(piece);
    let begin = piece.checked_mul(PIECE)?;
    (piece < piece_count(length)).then(|| length.saturating_sub(begin).min(PIECE))
}

/// The place of a photo. The first two digits are a folder: a folder with a million files is slow.
pub(super) fn place(photo: PhotoHash) -> Path {
    let name = photo_name(photo);
    let folder: String = name.chars().take(2).collect();
    Path::from_iter(["photos", folder.as_str(), name.as_str()])
}

/// The place of a piece, by the length of the photo that it is of.
pub(super) fn piece_place(photo: PhotoHash, length: u64, piece: u32) -> Path {
    Path::from_iter([PIECES, photo_name(photo).as_str(), &length.to_string(), &piece.to_string()])
}

/// What a place says of the piece that lies there: its photo and that one's length. None for what no piece is kept under.
pub(super) fn placed(place: &Path) -> Option<(PhotoHash, u64)> {
    let parts: Vec<_> = place.parts().collect();
    let [_, photo, length, _] = parts.as_slice() else { return None };
    Some((photo_named(photo.as_ref())?, length.as_ref().parse().ok()?))
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::empty(0, &[0])]
    #[case::short(1, &[1])]
    #[case::just(262_144, &[262_144])]
    #[case::one_more(262_145, &[262_144, 1])]
    #[case::some(700_000, &[262_144, 262_144, 175_712])]
    fn a_photo_is_cut_in_pieces(#[case] length: u64, #[case] pieces: &[u64]) {
        let cut: Vec<u64> = (0..).map_while(|piece| piece_length(length, piece)).collect();
        assert_eq!(cut, pieces);
        assert_eq!(piece_count(length), pieces.len() as u64);
    }
}
