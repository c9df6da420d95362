//! A table that came in from a file.

use super::key;
use crate::codec::{Fields, Map, Read, Written, bytes, row, word};
use crate::{Error, FileHash};

/// A table that the hub keeps for its phones. The words are frozen: none ever gets a second meaning.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Table {
    /// The instruments: the register.
    Instruments,
    /// The sensors that could be fitted.
    Sensors,
}

const TABLES: [Table; 2] = [Table::Instruments, Table::Sensors];

impl Table {
    /// Returns the word in the body.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Table::Instruments => "instruments",
            Table::Sensors => "sensors",
        }
    }

    /// Returns what a word stands for.
    #[must_use]
    pub fn from_word(word: &str) -> Option<Table> {
        TABLES.into_iter().find(|table| table.word() == word)
    }
}

/// How many rows of a table an import changed, each row counted once.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct RowsChanged {
    /// Rows that were not there.
    pub added: u64,
    /// Rows that say something else, in the same area.
    pub changed: u64,
    /// Rows that went to another area; sensors have none.
    pub moved: u64,
    /// Rows that were taken out.
    pub removed: u64,
}

/// An import that changed a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Import {
    /// The table.
    pub table: Table,
    /// The file that came, by its hash: whoever kept it can show what came in.
    pub file: FileHash,
    /// The number of the table's newest change before; 0 where there was none.
    pub before: u64,
    /// The number of its newest change from then on, above the one before.
    pub after: u64,
    /// How many rows changed.
    pub rows: RowsChanged,
}

/// Puts an import into the map.
pub(super) fn write(map: &mut Map, import: &Import) -> Written {
    map.put(key::TABLE, |out| Ok(out.str(import.table.word())?.ok()?))?;
    map.put(key::FILE, |out| Ok(out.bytes(&import.file.0)?.ok()?))?;
    map.put(key::VERSIONS, |out| Ok(out.array(2)?.u64(import.before)?.u64(import.after)?.ok()?))?;
    let RowsChanged { added, changed, moved, removed } = import.rows;
    map.put(key::ROWS, |out| Ok(out.array(4)?.u64(added)?.u64(changed)?.u64(moved)?.u64(removed)?.ok()?))
}

/// Takes an import out of the map.
pub(super) fn read(map: &mut Fields<'_>) -> Result<Import, Error> {
    let table = map.need(key::TABLE, |from| word(from, "change.table", Table::from_word))?;
    let file = FileHash(map.need(key::FILE, |from| bytes(from, "change.file"))?);
    let [before, after] = map.need(key::VERSIONS, |from| numbers(from, "change.versions"))?;
    let [added, changed, moved, removed] = map.need(key::ROWS, |from| numbers(from, "change.rows"))?;
    Ok(Import { table, file, before, after, rows: RowsChanged { added, changed, moved, removed } })
}

fn numbers<const N: usize>(from: &mut Read<'_>, place: &'static str) -> Result<[u64; N], Error> {
    row(from, N as u64, place)?;
    let mut numbers = [0; N];
    for number in &mut numbers {
        *number = from.u64().map_err(|_| Error::at(place))?;
    }
    Ok(numbers)
}
