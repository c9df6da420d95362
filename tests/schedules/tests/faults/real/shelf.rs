//! The photos' folder on the same storage as the database.

use std::io;

use faults_vfs::Plain;
use store::Shelf;

/// What stands before the name of each photo's file.
pub const FOLDER: &str = "photos/";

#[derive(Debug)]
pub struct Beside(pub Plain);

fn named(name: &str) -> String {
    format!("{FOLDER}{name}")
}

impl Shelf for Beside {
    fn length(&self, name: &str) -> io::Result<Option<u64>> {
        Ok(self.0.length(&named(name)))
    }

    fn read(&self, name: &str, at: u64, most: usize) -> io::Result<Vec<u8>> {
        self.0.read(&named(name), at as usize, most)
    }

    fn write(&self, name: &str, at: u64, bytes: &[u8]) -> io::Result<()> {
        self.0.write(&named(name), at as usize, bytes)
    }

    fn sync(&self, name: &str) -> io::Result<()> {
        self.0.sync(&named(name))
    }

    fn rename(&self, from: &str, to: &str) -> io::Result<()> {
        self.0.rename(&named(from), &named(to))
    }

    fn remove(&self, name: &str) -> io::Result<()> {
        self.0.remove(&named(name))
    }

    fn names(&self) -> io::Result<Vec<(String, u64)>> {
        let names = self.0.names(FOLDER).into_iter();
        Ok(names.map(|(name, length)| (name[FOLDER.len()..].to_owned(), length)).collect())
    }
}
