//! Where records stand: on this phone, also on another, received by the hub, in its backup; photos counted apart.

use std::collections::BTreeMap;

use bodies::{Grade, PhotoHash};
use rusqlite::{Connection, OptionalExtension, params};

use super::coverage::Coverage;
use super::{has_photo, photo_grade};
use crate::photos::PhotoState;
use crate::{Arrival, Error, LogId, PayloadHash, Place, Seq, SignedVisit, Store, known, photos};

/// Where a record is, best known copy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stands {
    /// On this phone and, as far as anyone signed for it, nowhere else.
    Here,
    /// Also on another phone.
    AlsoElsewhere,
    /// Received by the hub.
    Received,
    /// In the hub's backup.
    BackedUp,
}

impl Stands {
    fn of(grade: Option<Grade>) -> Stands {
        match grade {
            None => Stands::Here,
            Some(Grade::Relayed) => Stands::AlsoElsewhere,
            Some(Grade::Stored) => Stands::Received,
            Some(Grade::BackedUp) => Stands::BackedUp,
        }
    }

    /// Returns whether the hub has it.
    #[must_use]
    pub fn is_at_hub(self) -> bool {
        self >= Stands::Received
    }
}

/// Where a visit stands: its entry with all observations that it names, and their photos.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct VisitState {
    /// The record: the least of its entries.
    pub record: Stands,
    /// Photos that it names.
    pub photos: u32,
    /// Those of them that the hub has.
    pub photos_received: u32,
    /// Those of them that the hub has in its backup.
    pub photos_backed_up: u32,
    /// Those of them that are neither at the hub nor on this phone.
    pub photos_missing: u32,
}

impl VisitState {
    /// Returns whether all of it is at the hub.
    #[must_use]
    pub fn is_sent(&self) -> bool {
        self.record.is_at_hub() && self.photos_received == self.photos
    }
}

/// How many records of this phone stand where, for one line.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Counts {
    /// Visits signed on this phone.
    pub visits: u32,
    /// Those of them that stand only here.
    pub only_here: u32,
    /// Those that are also on another phone, and not at the hub.
    pub also_elsewhere: u32,
    /// Those that the hub has, photos aside.
    pub received: u32,
    /// Photos that entries name, that the hub has not, and that are here to be sent.
    pub photos_waiting: u32,
    /// Photos of this phone's entries that are neither at the hub nor here.
    pub photos_missing: u32,
    /// Entries of this phone that the hub has not: visits, observations, proposals and all else.
    pub entries_waiting: u32,
}

/// A visit that the hub does not have with all that belongs to it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Waiting {
    /// The visit.
    pub visit: SignedVisit,
    /// Where it stands.
    pub state: VisitState,
}

impl Store {
    /// Returns where the entry at a place stands; none where there is none.
    ///
    /// # Errors
    ///
    /// [`Error::Unreadable`] when what is known of it is not as it was written, and what storage gives.
    pub fn stands(&self, place: Place) -> Result<Option<Stands>, Error> {
        self.read(|connection| {
            let Some((hash, _)) = crate::log::standing(connection, place)? else { return Ok(None) };
            Ok(Some(Stands::of(Coverage::of(connection, place.log)?.grade(place.seq, hash))))
        })
    }

    /// Returns where the visit at a place stands, its photos counted; none where there is no entry.
    ///
    /// # Errors
    ///
    /// As [`Store::stands`].
    pub fn visit_state(&self, place: Place) -> Result<Option<VisitState>, Error> {
        self.read(|connection| Look::at(connection).visit(place))
    }

    /// Returns the visits of this phone that the hub does not have whole, oldest first.
    ///
    /// # Errors
    ///
    /// As [`Store::stands`].
    pub fn waiting(&self) -> Result<Vec<Waiting>, Error> {
        let mut visits = self.signed(u32::MAX)?;
        visits.reverse();
        self.read(|connection| {
            let own = known::own_logs(connection)?;
            let mut look = Look::at(connection);
            let mut waiting = Vec::new();
            for visit in visits.into_iter().filter(|visit| own.contains(&visit.place.log)) {
                if let Some(state) = look.visit(visit.place)?.filter(|state| !state.is_sent()) {
                    waiting.push(Waiting { visit, state });
                }
            }
            Ok(waiting)
        })
    }

    /// Returns the photos that wait to be sent, each with its length: those that are here, that an entry names, and that the
    /// hub has not said to hold, in the order in which they were taken. Who signed the entry does not matter: after a
    /// damaged file was taken over, a phone may not know any more that it was itself.
    ///
    /// # Errors
    ///
    /// As [`Store::stands`].
    pub fn photos_to_send(&self) -> Result<Vec<(PhotoHash, u64)>, Error> {
        self.read(|connection| {
            let waiting = not_received(connection)?.waiting.into_iter();
            waiting.map(|photo| Ok((photo, length(connection, photo)?))).collect()
        })
    }

    /// Returns how many records of this phone stand where.
    ///
    /// # Errors
    ///
    /// As [`Store::stands`].
    pub fn counts(&self) -> Result<Counts, Error> {
        self.read(|connection| {
            let photos = not_received(connection)?;
            let photos_waiting = u32::try_from(photos.waiting.len()).unwrap_or(u32::MAX);
            let mut counts = Counts { photos_waiting, photos_missing: photos.missing, ..Counts::default() };
            for log in known::own_logs(connection)? {
                let coverage = Coverage::of(connection, log)?;
                for (seq, hash, is_visit) in entries(connection, log)? {
                    counts.add(Stands::of(coverage.grade(seq, hash)), is_visit);
                }
            }
            Ok(counts)
        })
    }
}

impl Counts {
    fn add(&mut self, stands: Stands, is_visit: bool) {
        self.entries_waiting += u32::from(!stands.is_at_hub());
        if is_visit {
            self.visits += 1;
            match stands {
                Stands::Here => self.only_here += 1,
                Stands::AlsoElsewhere => self.also_elsewhere += 1,
                Stands::Received | Stands::BackedUp => self.received += 1,
            }
        }
    }
}

/// The entries of a log: place, payload, whether it is a visit.
fn entries(connection: &Connection, log: LogId) -> Result<Vec<(Seq, PayloadHash, bool)>, Error> {
    let mut statement =
        connection.prepare_cached("SELECT seq, hash, kind = ?2 FROM entry WHERE log = ?1 ORDER BY seq")?;
    let rows = statement.query_map(params![log, i64::from(bodies::VISIT.0)], |row| {
        Ok((row.get(0)?, row.get(1)?, row.get(2)?))
    })?;
    Ok(rows.collect::<Result<_, _>>()?)
}

/// The photos that entries name and that the hub has not said to hold.
struct NotReceived {
    /// Those that are here, in the order in which they were taken.
    waiting: Vec<PhotoHash>,
    /// How many of this phone's entries' are not.
    missing: u32,
}

fn not_received(connection: &Connection) -> Result<NotReceived, Error> {
    let mut statement = connection.prepare_cached(
        "SELECT photo, max(entry.log IN (SELECT log FROM identity)) FROM photo_cite \
         JOIN entry ON entry.arrival = photo_cite.arrival GROUP BY photo ORDER BY min(entry.arrival)",
    )?;
    let photos = statement.query_map([], |row| Ok((row.get(0).map(PhotoHash)?, row.get::<_, bool>(1)?)))?;
    let mut found = NotReceived { waiting: Vec::new(), missing: 0 };
    for (photo, of_own) in photos.collect::<Result<Vec<_>, _>>()? {
        if has_photo(connection, photo, Grade::Stored)? {
            continue;
        }
        match photos::state(connection, photo)? {
            Some(PhotoState::Here) => found.waiting.push(photo),
            _ => found.missing += u32::from(of_own),
        }
    }
    Ok(found)
}

/// The length of a photo whose row was just found to be as it was written.
fn length(connection: &Connection, photo: PhotoHash) -> Result<u64, Error> {
    let length: i64 = connection
        .prepare_cached("SELECT length FROM photo WHERE hash = ?1")?
        .query_row([photo.0], |row| row.get(0))?;
    Ok(u64::try_from(length).unwrap_or_default())
}

/// A look at several visits: what is held elsewhere is worked out once for each log.
struct Look<'a> {
    connection: &'a Connection,
    coverage: BTreeMap<LogId, Coverage>,
}

impl<'a> Look<'a> {
    fn at(connection: &'a Connection) -> Look<'a> {
        Look { connection, coverage: BTreeMap::new() }
    }

    fn visit(&mut self, place: Place) -> Result<Option<VisitState>, Error> {
        let Some((hash, arrival)) = crate::log::standing(self.connection, place)? else { return Ok(None) };
        let mut record = self.grade(place, hash)?;
        let mut named: Vec<PhotoHash> = Vec::new();
        for (place, hash, arrival) in self.observations(arrival)? {
            record = record.min(self.grade(place, hash)?);
            named.extend(photos::photos_of(self.connection, arrival)?);
        }
        named.sort_unstable();
        named.dedup();
        let mut state = VisitState {
            record: Stands::of(record),
            photos: 0,
            photos_received: 0,
            photos_backed_up: 0,
            photos_missing: 0,
        };
        for photo in named {
            let grade = photo_grade(self.connection, photo)?;
            let received = grade >= Some(Grade::Stored);
            let here = photos::state(self.connection, photo)? == Some(PhotoState::Here);
            state.photos += 1;
            state.photos_received += u32::from(received);
            state.photos_backed_up += u32::from(grade >= Some(Grade::BackedUp));
            state.photos_missing += u32::from(!received && !here);
        }
        Ok(Some(state))
    }

    fn grade(&mut self, place: Place, hash: PayloadHash) -> Result<Option<Grade>, Error> {
        if !self.coverage.contains_key(&place.log) {
            self.coverage.insert(place.log, Coverage::of(self.connection, place.log)?);
        }
        Ok(self.coverage.get(&place.log).and_then(|coverage| coverage.grade(place.seq, hash)))
    }

    /// The observations that a visit names and that are here.
    fn observations(&self, visit: Arrival) -> Result<Vec<(Place, PayloadHash, Arrival)>, Error> {
        let mut found = Vec::new();
        for hash in photos::observations_of(self.connection, visit)? {
            found.extend(self.entry_of(hash)?);
        }
        Ok(found)
    }

    fn entry_of(&self, hash: PayloadHash) -> Result<Option<(Place, PayloadHash, Arrival)>, Error> {
        let found = self
            .connection
            .prepare_cached("SELECT log, seq, arrival FROM entry WHERE hash = ?1 AND kind = ?2 LIMIT 1")?
            .query_row(params![hash, i64::from(bodies::OBSERVATION.0)], |row| {
                Ok((Place { log: row.get(0)?, seq: row.get(1)? }, hash, Arrival(row.get(2)?)))
            })
            .optional()?;
        Ok(found)
    }
}
