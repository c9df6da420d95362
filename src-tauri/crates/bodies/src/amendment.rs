//! What is to be said differently of an entry. The entry itself stays as it was signed.

use record::{EntryId, Kind};

use crate::body::{Body, body_methods};
use crate::codec::{Fields, Map, Out, Read, Written, read_subject, row, text, write_subject};
use crate::{Error, Technician};

/// The kind of entry that holds an amendment.
pub const AMENDMENT: Kind = Kind(3);

/// The version of the amendment's body that is written here.
pub const AMENDMENT_VERSION: u32 = 1;

/// One thing that is to be read differently.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Amended {
    /// What, in the words of the screens.
    pub what: String,
    /// As the entry has it; empty where it has nothing there.
    pub from: String,
    /// As it should be; empty where it should not be there.
    pub to: String,
}

/// An amendment as it is signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Amendment {
    /// The version of the app that wrote it.
    pub app: String,
    /// Who amends.
    pub technician: Technician,
    /// The entry that it speaks of.
    pub subject: EntryId,
    /// Why; never empty.
    pub reason: String,
    /// What is to be read differently; empty where the reason says all.
    pub changes: Vec<Amended>,
}

mod key {
    pub(super) const APP: u64 = 1;
    pub(super) const TECHNICIAN: u64 = 2;
    pub(super) const SUBJECT: u64 = 3;
    pub(super) const REASON: u64 = 4;
    pub(super) const CHANGES: u64 = 5;
}

body_methods!(Amendment);

impl Body for Amendment {
    const KIND: Kind = AMENDMENT;
    const VERSION: u32 = AMENDMENT_VERSION;
    const NAME: &'static str = "amendment";
    const VERSIONED: &'static str = "amendment version";

    fn write(&self, map: &mut Map) -> Written {
        map.texts(&[(key::APP, &self.app), (key::REASON, &self.reason)])?;
        map.put(key::TECHNICIAN, |out| self.technician.write(out))?;
        map.put(key::SUBJECT, |out| write_subject(out, &self.subject))?;
        map.list(key::CHANGES, &self.changes, write_change)
    }

    fn read(map: &mut Fields<'_>, _: u32) -> Result<Amendment, Error> {
        Ok(Amendment {
            app: map.text(key::APP)?,
            technician: map.need(key::TECHNICIAN, Technician::read)?,
            subject: map.need(key::SUBJECT, |from| read_subject(from, "amendment.subject"))?,
            reason: map.text(key::REASON)?,
            changes: map.list(key::CHANGES, "amendment.changes", read_change)?,
        })
    }

    fn check(&self) -> Result<(), &'static str> {
        if self.reason.trim().is_empty() {
            return Err("amendment.reason");
        }
        let named = self.changes.iter().all(|change| !change.what.is_empty());
        if named { Ok(()) } else { Err("amendment.changes") }
    }
}

fn write_change(out: &mut Out, change: &Amended) -> Written {
    Ok(out.array(3)?.str(&change.what)?.str(&change.from)?.str(&change.to)?.ok()?)
}

fn read_change(from: &mut Read<'_>) -> Result<Amended, Error> {
    let place = "amendment.changes";
    row(from, 3, place)?;
    Ok(Amended { what: text(from, place)?, from: text(from, place)?, to: text(from, place)? })
}
