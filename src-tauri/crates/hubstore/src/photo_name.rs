//! The name of a photo as text: 64 small hex digits, and nothing else. All names of files and objects are made from it,
//! so that no name leads out of its folder.

use std::fmt::Write;

use bodies::PhotoHash;

/// Returns the hash of a photo's bytes.
#[must_use]
pub fn photo_hash(bytes: &[u8]) -> PhotoHash {
    PhotoHash(*blake3::hash(bytes).as_bytes())
}

/// Writes a photo's name.
#[must_use]
pub fn photo_name(photo: PhotoHash) -> String {
    photo.0.iter().fold(String::with_capacity(64), |mut name, byte| {
        // Writing to a text does not fail.
        let _ = write!(name, "{byte:02x}");
        name
    })
}

/// Reads a photo's name; anything but 64 small hex digits is none.
#[must_use]
pub fn photo_named(name: &str) -> Option<PhotoHash> {
    let small = |byte: &u8| byte.is_ascii_digit() || (b'a'..=b'f').contains(byte);
    if name.len() != 64 || !name.as_bytes().iter().all(small) {
        return None;
    }
    blake3::Hash::from_hex(name).ok().map(|hash| PhotoHash(*hash.as_bytes()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_photo_is_named_by_64_small_hex_digits_only() {
        let name = photo_name(photo_hash(b"a photo"));
        assert_eq!(photo_named(&name), Some(photo_hash(b"a photo")));
        let (short, long, other) = ("0".repeat(63), "0".repeat(65), "g".repeat(64));
        for wrong in ["", "..", "../../etc/passwd", &name.to_uppercase(), &short, &long, &other] {
            assert_eq!(photo_named(wrong), None, "{wrong}");
        }
    }
}
