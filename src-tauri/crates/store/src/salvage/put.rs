//! Putting what was found into the new file. What is there already stays as it is.

use std::collections::BTreeSet;

use domain::visit::Instrument;
use rusqlite::Connection;

use super::Salvaged;
use super::find::Found;
use crate::known::{self, HubLog};
use crate::parked::Room;
use crate::{
    Error, Identity, InstrumentRow, LogId, Whereabouts, drafts, feed, identity, keys, log, marks, photos,
    register, settings, signed, taken, whereabouts,
};

/// Who brings entries that were parked in the damaged file.
const CARRIER: &str = "salvage";

impl Found {
    /// Puts all of it in, within a transaction.
    pub(super) fn put(&self, connection: &Connection) -> Result<Salvaged, Error> {
        let mut salvaged = Salvaged { unproved: self.unproved, ..Salvaged::default() };
        salvaged.other += self.put_small(connection)?;
        salvaged.entries = self.put_entries(connection)?;
        salvaged.other += self.put_signed(connection)?;
        salvaged.drafts = self.put_drafts(connection)?;
        salvaged.instruments = self.put_register(connection)?;
        for photo in self.photos.values() {
            photos::take_over(connection, photo)?;
        }
        Ok(salvaged)
    }

    /// Keys, settings, marks, and who is known.
    fn put_small(&self, connection: &Connection) -> Result<u32, Error> {
        let mut put = 0;
        for key in self.keys.values() {
            keys::keep(connection, key)?;
            put += 1;
        }
        for (name, value) in self.settings.sure() {
            put += u32::from(settings::put_new(connection, name, value)?);
        }
        // How far news and register were followed is left out: what they brought may be what was lost.
        for (name, value) in self.marks.sure().filter(|(name, _)| marks::is_lasting(name)) {
            put += u32::from(marks::put_new(connection, name, value)?);
        }
        // Whether the hub was told already what is held of its logs may be what was lost.
        marks::keep_give_back(connection, true)?;
        self.put_identities(connection)?;
        for log in &self.known_logs {
            known::vouch(connection, *log)?;
        }
        for hub in &self.hub_logs {
            known::know_hub(connection, HubLog { log: hub.log, epoch: hub.epoch })?;
        }
        Ok(put)
    }

    /// The logs that this phone wrote. A log with a line in the list of signed visits is one, even where the row of its
    /// identity was lost.
    fn put_identities(&self, connection: &Connection) -> Result<(), Error> {
        for own in self.identities.values().rev() {
            identity::put_closed(connection, own)?;
        }
        let named: BTreeSet<LogId> = self.identities.values().map(|own| own.log).collect();
        let logs: BTreeSet<LogId> = self.signed.keys().map(|place| place.log).collect();
        for log in logs.difference(&named) {
            identity::put_closed(connection, &Identity { log: *log, sealed_key: Vec::new() })?;
        }
        Ok(())
    }

    fn put_entries(&self, connection: &Connection) -> Result<u32, Error> {
        let (mut put, mut room) = (0, Room::default());
        for (entry, parked) in &self.entries {
            if taken::held(connection, entry)?.is_some() {
                continue;
            }
            if *parked && !known::is_known(connection, entry.place.log)? {
                taken::take(connection, CARRIER, entry, &mut room)?;
            } else {
                log::add(connection, entry)?;
            }
            put += 1;
        }
        Ok(put)
    }

    fn put_signed(&self, connection: &Connection) -> Result<u32, Error> {
        let mut put = 0;
        for visit in self.signed.values() {
            if let Some((_, arrival)) = log::standing(connection, visit.place)? {
                signed::put(connection, visit, arrival)?;
                put += 1;
            }
        }
        Ok(put)
    }

    fn put_drafts(&self, connection: &Connection) -> Result<u32, Error> {
        let mut put = 0;
        for draft in &self.drafts {
            put += u32::from(drafts::put_new(connection, draft)?);
        }
        Ok(put)
    }

    /// The register, where the new file has none yet.
    fn put_register(&self, connection: &Connection) -> Result<u32, Error> {
        if register::name_of(connection)?.is_some() || feed::is_fed(connection)? {
            return Ok(0);
        }
        let mut put = 0;
        for (key, body) in self.sheets.sure() {
            // Of a fed register nothing is known of the areas: the hub gives it anew, and until then it is better than
            // none. So its lines stand as a file's would.
            let read: Option<Instrument> = serde_json::from_str(body).ok();
            let row = match &read {
                Some(instrument) => Some(InstrumentRow::of(instrument)?).filter(|row| row.listed.key == *key),
                None => self.listed.get(key).map(|listed| InstrumentRow {
                    listed: listed.clone(),
                    codes: Vec::new(),
                    body: body.clone(),
                }),
            };
            let Some(row) = row else { continue };
            register::insert(connection, &row, "")?;
            if let Some(line) = read.as_ref().and_then(Whereabouts::of) {
                whereabouts::put(connection, &line)?;
            }
            put += 1;
        }
        if let Some(name) = self.register.get(&()).filter(|_| put > 0) {
            register::put_name(connection, name)?;
        }
        self.areas.iter().try_for_each(|area| feed::begin_anew(connection, area))?;
        Ok(put)
    }
}
