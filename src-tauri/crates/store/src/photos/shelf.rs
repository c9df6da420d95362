//! Where the files of photos lie, as the store needs it. The real one is [`super::Disk`]; tests have one that loses power.

use std::fmt;
use std::io;

use bodies::PhotoHash;

/// A place for files. Names are relative and hold one `/` at most.
pub trait Shelf: fmt::Debug + Send + Sync {
    /// Returns the length of a file, or none where there is no such file.
    ///
    /// # Errors
    ///
    /// What the storage says.
    fn length(&self, name: &str) -> io::Result<Option<u64>>;

    /// Reads up to `most` bytes of a file from a place on; fewer only where the file ends.
    ///
    /// # Errors
    ///
    /// What the storage says.
    fn read(&self, name: &str, at: u64, most: usize) -> io::Result<Vec<u8>>;

    /// Cuts a file at a place and writes these bytes there. Makes the file and its folder where they are not.
    ///
    /// # Errors
    ///
    /// What the storage says.
    fn write(&self, name: &str, at: u64, bytes: &[u8]) -> io::Result<()>;

    /// Pushes a file's content to the storage.
    ///
    /// # Errors
    ///
    /// What the storage says; the content may then be lost.
    fn sync(&self, name: &str) -> io::Result<()>;

    /// Gives a file another name and pushes both folders to the storage. Makes the folder where it is not.
    ///
    /// # Errors
    ///
    /// What the storage says.
    fn rename(&self, from: &str, to: &str) -> io::Result<()>;

    /// Removes a file. One that is not there is no error.
    ///
    /// # Errors
    ///
    /// What the storage says.
    fn remove(&self, name: &str) -> io::Result<()>;

    /// Returns the names and lengths of all files.
    ///
    /// # Errors
    ///
    /// What the storage says.
    fn names(&self) -> io::Result<Vec<(String, u64)>>;
}

/// The name of a whole photo: its first two digits as the folder, so that no folder grows long.
pub(crate) fn whole(hash: &PhotoHash) -> String {
    let digits = digits(hash);
    let folder: String = digits.chars().take(2).collect();
    format!("{folder}/{digits}")
}

/// The name of a photo that is being written.
pub(crate) fn part(hash: &PhotoHash) -> String {
    format!("{PART}/{}", digits(hash))
}

/// What a file is, by its name.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Named {
    Whole(PhotoHash),
    Part,
}

/// Returns what a name says; none for a name that is not given here.
pub(crate) fn named(name: &str) -> Option<Named> {
    let (folder, file) = name.split_once('/')?;
    let hash = PhotoHash(blake3::Hash::from_hex(file).ok()?.into());
    if folder == PART {
        return (name == part(&hash)).then_some(Named::Part);
    }
    (name == whole(&hash)).then_some(Named::Whole(hash))
}

const PART: &str = "part";

fn digits(hash: &PhotoHash) -> String {
    blake3::Hash::from(hash.0).to_hex().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_says_what_it_was_made_of_and_nothing_else_does() {
        let hash = PhotoHash([0xab; 32]);
        assert_eq!(whole(&hash), format!("ab/{}", "ab".repeat(32)));
        assert_eq!(named(&whole(&hash)), Some(Named::Whole(hash)));
        assert_eq!(named(&part(&hash)), Some(Named::Part));
        for other in
            ["", "ab", "ab/cd", &format!("cd/{}", "ab".repeat(32)), &format!("ab/{}", "AB".repeat(32))]
        {
            assert_eq!(named(other), None, "{other}");
        }
    }
}
