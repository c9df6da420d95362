//! A record as a file that others can check: `<tag>-<date>.headmark`.

use std::fs::{self, File};
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use domain::visit::Moment;

use crate::{Error, Phone, identity, records, when};

/// The most letters of a tag that go into a file's name.
const MOST_LETTERS: usize = 60;
/// How many names are tried beside files of the same name.
const MOST_NAMES: u32 = 1_000;

impl Phone {
    /// Writes a record into the export folder and returns the file's path.
    ///
    /// Exporting it again gives the same file; a different one of that name is left alone.
    ///
    /// # Errors
    ///
    /// [`Error::NoRecord`], [`Error::UnknownSigner`], [`Error::Entry`] for a record that does not hold, and
    /// [`Error::NotExported`].
    pub fn record_export(&self, id: &str) -> Result<String, Error> {
        let kept = self.kept_entry(records::place(id).ok_or(Error::NoRecord)?)?;
        let entry = record::open(&kept)?;
        let key = identity::public_key(self.store(), entry.header.log)?;
        let file = record::write_export(&key, [kept.as_slice()])?;
        let visit = bodies::Visit::of_entry(&entry)?;
        let claimed = entry.header.claimed;
        let day = when::sortable_day(Moment(claimed.millis), claimed.offset_minutes);
        let name = format!("{}-{day}", name_part(&visit.finished.instrument.tag));
        let path = write(self.exports(), &name, "headmark", &file)
            .map_err(|error| Error::NotExported { what: error.kind().to_string() })?;
        Ok(path.to_string_lossy().into_owned())
    }
}

/// Returns a tag as part of a file name, on any system: letters, digits and single dashes.
pub(crate) fn name_part(tag: &str) -> String {
    let mut name = String::new();
    for letter in tag.chars().take(MOST_LETTERS) {
        if letter.is_alphanumeric() {
            name.push(letter);
        } else if !name.ends_with('-') && !name.is_empty() {
            name.push('-');
        }
    }
    let name = name.trim_end_matches('-');
    if name.is_empty() { "record".to_owned() } else { name.to_owned() }
}

/// Writes a file of this name and ending into a folder, beside others of that name, and returns its path.
pub(crate) fn write(folder: &Path, name: &str, ending: &str, bytes: &[u8]) -> io::Result<PathBuf> {
    fs::create_dir_all(folder)?;
    for number in 1..=MOST_NAMES {
        let number = if number == 1 { String::new() } else { format!("-{number}") };
        let path = folder.join(format!("{name}{number}.{ending}"));
        match File::options().write(true).create_new(true).open(&path) {
            Ok(file) => return filled(file, &path, bytes).map(|()| path),
            Err(error) if error.kind() == io::ErrorKind::AlreadyExists => {
                if fs::read(&path)? == bytes {
                    return Ok(path);
                }
            }
            Err(error) => return Err(error),
        }
    }
    Err(io::ErrorKind::AlreadyExists.into())
}

/// Writes a new file whole, or takes it away: half a record would look like a forged one.
fn filled(mut file: File, path: &Path, bytes: &[u8]) -> io::Result<()> {
    let written = file.write_all(bytes).and_then(|()| file.sync_all());
    if written.is_err() {
        drop(file);
        fs::remove_file(path)?;
    }
    written
}

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;

    #[rstest]
    #[case::plain("LT-2041", "LT-2041")]
    #[case::slashes_and_dots("../LT/2041..", "LT-2041")]
    #[case::spaces("LT 20  41", "LT-20-41")]
    #[case::nothing_left("/.\\:", "record")]
    fn a_tag_becomes_a_safe_part_of_a_name(#[case] tag: &str, #[case] name: &str) {
        assert_eq!(name_part(tag), name);
    }

    #[test]
    fn the_same_again_is_the_same_file_and_another_stands_beside() {
        let folder = tempfile::tempdir().unwrap();
        let exports = folder.path().join("new");
        let first = write(&exports, "LT-1-2026-11-25", "headmark", b"one").unwrap();
        assert_eq!(first, exports.join("LT-1-2026-11-25.headmark"));
        assert_eq!(write(&exports, "LT-1-2026-11-25", "headmark", b"one").unwrap(), first);
        let second = write(&exports, "LT-1-2026-11-25", "headmark", b"two").unwrap();
        assert_eq!(second, exports.join("LT-1-2026-11-25-2.headmark"));
        assert_eq!(fs::read(first).unwrap(), b"one");
    }
}
