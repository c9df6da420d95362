//! The shelf on a real storage.

use std::fs::{self, File, OpenOptions};
use std::io::{self, ErrorKind, Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};

use super::Shelf;

/// A folder of files.
#[derive(Debug, Clone)]
pub struct Disk {
    folder: PathBuf,
}

impl Disk {
    /// Uses this folder, which is made when a file first goes into it.
    #[must_use]
    pub fn at(folder: impl AsRef<Path>) -> Disk {
        Disk { folder: folder.as_ref().to_owned() }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.folder.join(name)
    }
}

impl Shelf for Disk {
    fn length(&self, name: &str) -> io::Result<Option<u64>> {
        match fs::metadata(self.path(name)) {
            Ok(found) => Ok(Some(found.len())),
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(None),
            Err(error) => Err(error),
        }
    }

    fn read(&self, name: &str, at: u64, most: usize) -> io::Result<Vec<u8>> {
        let mut file = File::open(self.path(name))?;
        file.seek(SeekFrom::Start(at))?;
        let mut bytes = Vec::new();
        file.take(most as u64).read_to_end(&mut bytes)?;
        Ok(bytes)
    }

    fn write(&self, name: &str, at: u64, bytes: &[u8]) -> io::Result<()> {
        let path = self.path(name);
        let mut options = OpenOptions::new();
        options.write(true).create(true).truncate(false);
        let mut file = match options.open(&path) {
            Err(error) if error.kind() == ErrorKind::NotFound => {
                make_folder_of(&path)?;
                options.open(&path)?
            }
            other => other?,
        };
        file.set_len(at)?;
        file.seek(SeekFrom::Start(at))?;
        file.write_all(bytes)
    }

    fn sync(&self, name: &str) -> io::Result<()> {
        // A file opened for reading alone cannot be synced on every system.
        OpenOptions::new().write(true).open(self.path(name))?.sync_all()
    }

    fn rename(&self, from: &str, to: &str) -> io::Result<()> {
        let (from, to) = (self.path(from), self.path(to));
        make_folder_of(&to)?;
        fs::rename(&from, &to)?;
        // The folder of the new name may be new itself, so its own name is made durable too.
        for path in [to.as_path(), to.parent().unwrap_or(&to), from.as_path()] {
            sync_folder_of(path)?;
        }
        Ok(())
    }

    fn remove(&self, name: &str) -> io::Result<()> {
        match fs::remove_file(self.path(name)) {
            Err(error) if error.kind() == ErrorKind::NotFound => Ok(()),
            other => other,
        }
    }

    fn names(&self) -> io::Result<Vec<(String, u64)>> {
        let mut names = Vec::new();
        for folder in entries(&self.folder)? {
            if !folder.file_type()?.is_dir() {
                continue;
            }
            for file in entries(&folder.path())? {
                let name = (folder.file_name().into_string(), file.file_name().into_string());
                if let (Ok(folder), Ok(file_name)) = name {
                    names.push((format!("{folder}/{file_name}"), file.metadata()?.len()));
                }
            }
        }
        names.sort();
        Ok(names)
    }
}

fn entries(folder: &Path) -> io::Result<Vec<fs::DirEntry>> {
    match fs::read_dir(folder) {
        Ok(entries) => entries.collect(),
        Err(error) if error.kind() == ErrorKind::NotFound => Ok(Vec::new()),
        Err(error) => Err(error),
    }
}

fn make_folder_of(path: &Path) -> io::Result<()> {
    path.parent().map_or(Ok(()), fs::create_dir_all)
}

fn sync_folder_of(path: &Path) -> io::Result<()> {
    match path.parent() {
        Some(folder) if cfg!(unix) => File::open(folder)?.sync_all(),
        _ => Ok(()),
    }
}
