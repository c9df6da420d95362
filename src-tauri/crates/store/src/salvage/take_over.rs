//! Taking over one damaged file, and noting that it was done.

use std::path::{Path, PathBuf};

use rusqlite::{Connection, params};

use super::find::Found;
use crate::{Error, Store, aside};

/// What was taken over.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Salvaged {
    /// Signed entries.
    pub entries: u32,
    /// Visits under way.
    pub drafts: u32,
    /// Instruments of the register.
    pub instruments: u32,
    /// Settings, keys and all else.
    pub other: u32,
    /// Entries that were found and could not be proved.
    pub unproved: u32,
}

impl Store {
    /// Returns the damaged files beside this one that nothing was taken over from yet, oldest first.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub fn unsalvaged(&self) -> Result<Vec<PathBuf>, Error> {
        let kept = aside::kept(self.opening().path());
        self.read(|connection| {
            let mut unsalvaged = Vec::new();
            for path in kept {
                let mut done = connection.prepare_cached("SELECT 1 FROM salvage WHERE name = ?1")?;
                if !done.exists([name(&path)])? {
                    unsalvaged.push(path);
                }
            }
            Ok(unsalvaged)
        })
    }

    /// Takes over what a damaged file still holds, in one transaction; what is here already stays as it is. The damaged
    /// file is only read. Doing it twice changes nothing.
    ///
    /// # Errors
    ///
    /// [`Error::Full`], [`Error::Io`] and what else storage gives; nothing is then taken over, and it can be done again.
    pub fn salvage(&self, file: &Path) -> Result<Salvaged, Error> {
        let found = Found::read(file)?;
        self.write(|transaction| {
            let salvaged = found.put(transaction)?;
            note(transaction, &name(file), salvaged)?;
            Ok(salvaged)
        })
    }

    /// Returns what was taken over from damaged files so far, by the names of the files.
    ///
    /// # Errors
    ///
    /// What storage gives.
    pub fn salvaged(&self) -> Result<Vec<(String, Salvaged)>, Error> {
        self.read(|connection| {
            let mut statement = connection.prepare_cached(
                "SELECT name, entries, drafts, instruments, other, unproved FROM salvage ORDER BY name",
            )?;
            let rows = statement.query_map([], |row| {
                let salvaged = Salvaged {
                    entries: row.get(1)?,
                    drafts: row.get(2)?,
                    instruments: row.get(3)?,
                    other: row.get(4)?,
                    unproved: row.get(5)?,
                };
                Ok((row.get(0)?, salvaged))
            })?;
            Ok(rows.collect::<Result<_, _>>()?)
        })
    }
}

/// Whether this file ever took over a damaged one: entries may then be missing that nobody knows of.
pub(crate) fn ever(connection: &Connection) -> Result<bool, Error> {
    Ok(connection.prepare_cached("SELECT 1 FROM salvage LIMIT 1")?.exists([])?)
}

fn note(connection: &Connection, name: &str, salvaged: Salvaged) -> Result<(), Error> {
    connection.execute(
        "INSERT INTO salvage (name, entries, drafts, instruments, other, unproved) \
         VALUES (?1, ?2, ?3, ?4, ?5, ?6) ON CONFLICT (name) DO NOTHING",
        params![
            name,
            salvaged.entries,
            salvaged.drafts,
            salvaged.instruments,
            salvaged.other,
            salvaged.unproved
        ],
    )?;
    Ok(())
}

fn name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}
