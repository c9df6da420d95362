//! Settings that count their changes: the number of the last one, 8 bytes, then the value.

use crate::{Counted, Error, Version};

/// The setting that counts the changes to people; its value is empty.
pub(crate) const PEOPLE: &str = "people.version";

/// Reads what is kept.
pub(crate) fn counted(kept: &[u8]) -> Result<Counted, Error> {
    let (number, value) =
        kept.split_first_chunk().ok_or_else(|| Error::unreadable("a setting without its number"))?;
    Ok(Counted { version: Version(u64::from_be_bytes(*number)), value: value.to_vec() })
}

/// Returns what is to be kept next: the next number, and no value.
pub(crate) fn next(kept: Option<&Counted>) -> Vec<u8> {
    let Version(before) = kept.map_or(Version::default(), |kept| kept.version);
    Counted { version: Version(before + 1), value: Vec::new() }.kept()
}
