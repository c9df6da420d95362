//! The port by which a session of the exchange reads and fills this store.

use std::collections::{BTreeMap, BTreeSet};

use exchange::have::HaveSet;
use exchange::intake::Arrived;
use exchange::message::About;
use exchange::run::{Runs, Step, Wanted};
use exchange::session::{Held, Ledger, Marks, Taken, Took};
use exchange::trust::{Trust, Unproved};
use record::{EntryId, LogId, PublicKey};
use rusqlite::{Connection, params};

use crate::known::HubLog;
use crate::parked::Room;
use crate::{
    Error, Kind, NewEntry, PayloadHash, Place, Seq, Store, chain, feed, keys, known, lacking, log, marks,
    receipts, runs, share, taken,
};

/// Who brings what a session takes, for the limits of what is parked.
const HUB: &str = "hub";

impl Ledger for Store {
    type Error = Error;

    fn have(&self) -> Result<HaveSet, Error> {
        self.read(|connection| {
            let (hubs, own) = (hubs(connection)?, known::own_logs(connection)?);
            let mut known = runs::all(connection)?;
            known.retain(|log, _| !hubs.contains(log));
            let mut parked = parked(connection)?;
            parked.retain(|log, _| !hubs.contains(log) && !known.contains_key(log));
            let (own, others) = known.into_iter().partition(|(log, _)| own.contains(log));
            Ok(share::said(&share::Holding { own, others, parked }, marks::news(connection)?))
        })
    }

    fn have_of_hubs(&self) -> Result<HaveSet, Error> {
        self.read(|connection| {
            let hubs = hubs(connection)?;
            Ok(have_set(runs::all(connection)?.iter().filter(|(log, _)| hubs.contains(log))))
        })
    }

    fn branch(&self, wanted: &Wanted, most: usize) -> Result<Vec<Held>, Error> {
        self.read(|connection| {
            let held = branch(connection, "entry", wanted, most)?;
            if held.is_empty() { branch(connection, "parked", wanted, most) } else { Ok(held) }
        })
    }

    fn key(&self, log: LogId) -> Result<Option<PublicKey>, Error> {
        self.public_key(crate::LogId::of(log))
    }

    fn marks(&self) -> Result<Marks, Error> {
        self.read(|connection| {
            let epoch = marks::epoch(connection)?;
            Ok(Marks {
                epoch,
                news: marks::news(connection)?,
                areas: feed::cursors(connection, epoch)?,
                give_back: marks::give_back(connection)?,
            })
        })
    }

    fn about(&self) -> Result<Vec<About>, Error> {
        self.read(|connection| {
            let epoch = marks::epoch(connection)?.map_or_else(Vec::new, |epoch| epoch.0.to_vec());
            let about = |own: crate::LogId| {
                let receipts = receipts::newest(connection, own, &epoch)?;
                Ok(About {
                    log: own.of_record(),
                    receipts: receipts.into_iter().map(PayloadHash::of_record).collect(),
                })
            };
            // Of what is passed on too: its owner may hear of it from this phone first.
            let (hubs, own) = (hubs(connection)?, known::own_logs(connection)?);
            let passed_on = runs::all(connection)?.into_keys().filter(|log| !hubs.contains(log));
            let logs: BTreeSet<crate::LogId> = own.into_iter().chain(passed_on).collect();
            logs.into_iter().map(about).collect()
        })
    }

    fn lacks(&self) -> Result<Vec<Wanted>, Error> {
        self.read(lacking::lacking)
    }

    fn trust(&self) -> Result<Trust, Error> {
        self.read(|connection| Ok(trust(connection)?.unwrap_or_else(|| Trust::rooted_in(LogId([0; 32])))))
    }

    fn take(&self, came: &Taken) -> Result<Took, Error> {
        self.write(|transaction| {
            marks::enter(transaction, came.epoch)?;
            came.keys.iter().try_for_each(|key| keys::keep(transaction, key))?;
            let mut took = Took { entries: take_in(transaction, HUB, &came.entries)?.new, pages: 0 };
            for signed in &came.pages {
                took.pages += u32::from(feed::apply(transaction, &signed.page)? == feed::Applied::Now);
            }
            if let Some(news) = came.news {
                marks::keep_news(transaction, news)?;
            }
            if came.given_back {
                marks::keep_give_back(transaction, false)?;
            }
            Ok(took)
        })
    }
}

/// What came of taking in what a bundle brought.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Brought {
    /// Entries that were not here before, parked ones included.
    pub new: u32,
    /// Entries that would be parked and that there is no more room for: they were left out, and may come again.
    pub no_room: u32,
}

impl Store {
    /// Takes in what a bundle brought, verified: keys and entries, in one transaction.
    ///
    /// # Errors
    ///
    /// [`Error::Full`] and what else storage gives; nothing is then in.
    pub fn take_bundle(
        &self,
        carrier: &str,
        keys: &[PublicKey],
        entries: &[Arrived],
    ) -> Result<Brought, Error> {
        self.write(|transaction| {
            keys.iter().try_for_each(|key| crate::keys::keep(transaction, key))?;
            let brought = take_in(transaction, carrier, entries)?;
            let hubs = hubs(transaction)?;
            // The hub may have lost what another phone kept of it.
            if brought.new > 0
                && entries.iter().any(|arrived| hubs.contains(&crate::LogId::of(arrived.id.log)))
            {
                marks::keep_give_back(transaction, true)?;
            }
            Ok(brought)
        })
    }
}

/// Takes in entries, after whoever they vouch for became known.
fn take_in(connection: &Connection, carrier: &str, entries: &[Arrived]) -> Result<Brought, Error> {
    learn(connection, entries)?;
    let (mut brought, mut room) = (Brought::default(), Room::default());
    for arrived in entries {
        let entry = of_arrived(arrived);
        let before = taken::is_parked(connection, &entry)?;
        match taken::take(connection, carrier, &entry, &mut room)? {
            taken::Taken::New(_) | taken::Taken::Fork(_) => brought.new += 1,
            taken::Taken::Parked => brought.new += u32::from(!before),
            taken::Taken::Already(_) => {}
            taken::Taken::NoRoom => brought.no_room += 1,
        }
    }
    Ok(brought)
}

/// Works out whom to trust with what came, and takes in what was parked of those.
fn learn(connection: &Connection, entries: &[Arrived]) -> Result<(), Error> {
    const SAYING: [record::Kind; 2] = [bodies::CERTIFICATE, bodies::REVOCATION];
    if !entries.iter().any(|arrived| SAYING.contains(&arrived.kind)) {
        return Ok(());
    }
    let Some(mut trust) = trust(connection)? else { return Ok(()) };
    trust.learn(entries);
    for (log, hub) in trust.hubs() {
        // A hub that was put away speaks for no epoch any more, so that its receipts say nothing of the present one.
        let epoch = trust.revoked(log).is_none().then_some(hub.epoch.0);
        known::know_hub(connection, HubLog { log: crate::LogId::of(log), epoch })?;
    }
    for arrived in entries {
        certified(connection, &trust, arrived)?;
    }
    for log in parked(connection)?.into_keys().filter(|log| trust.knows(log.of_record())) {
        known::vouch(connection, log)?;
    }
    Ok(())
}

/// Notes the log that a certificate names, if whoever signed it may.
fn certified(connection: &Connection, trust: &Trust, arrived: &Arrived) -> Result<(), Error> {
    let certificate = record::open(&arrived.bytes)
        .ok()
        .and_then(|entry| bodies::Certificate::of_entry(&entry).ok())
        .filter(|certificate| trust.knows(certificate.key.log()));
    let Some(certificate) = certificate else { return Ok(()) };
    keys::keep(connection, &certificate.key)?;
    let log = crate::LogId::of(certificate.key.log());
    if trust.is_organisation(certificate.key.log()) {
        known::know_hub(connection, HubLog { log, epoch: None })?;
    } else if trust.device(certificate.key.log()).is_some() {
        known::vouch(connection, log)?;
    }
    Ok(())
}

/// Folds all that is kept of certificates, revocations and adoptions; none before this phone belongs to a hub.
fn trust(connection: &Connection) -> Result<Option<Trust>, Error> {
    let Some(organisation) = marks::organisation(connection)? else { return Ok(None) };
    let mut trust = Trust::rooted_in(organisation.of_record());
    for table in ["entry", "parked"] {
        let sql = format!("SELECT {} FROM {table} WHERE kind IN (?1, ?2, ?3) ORDER BY arrival", log::COLUMNS);
        let mut statement = connection.prepare_cached(&sql)?;
        let kinds = [bodies::CERTIFICATE, bodies::REVOCATION, bodies::REVIEW].map(|kind| i64::from(kind.0));
        let rows = statement.query_map(kinds, log::raw)?;
        let read = rows.map(|row| Ok(row?.proved()?.entry)).collect::<Result<Vec<NewEntry>, Error>>()?;
        trust.learn(&read.iter().filter_map(arrived).collect::<Vec<_>>());
    }
    for Unproved { log, last, entries } in trust.unproved() {
        let end = (Seq::of(last.seq), PayloadHash::of(last.payload));
        let leading = chain::leading_to(connection, crate::LogId::of(log), Seq::FIRST, end)?;
        let leads = |id: &EntryId| leading.contains(&PayloadHash::of(id.payload));
        trust.prove(last, entries.into_iter().filter(leads));
    }
    Ok(Some(trust))
}

fn arrived(entry: &NewEntry) -> Option<Arrived> {
    record::open(&entry.bytes).ok().map(|opened| Arrived::of(&opened))
}

fn of_arrived(arrived: &Arrived) -> NewEntry {
    NewEntry {
        place: Place { log: crate::LogId::of(arrived.id.log), seq: Seq::of(arrived.id.seq) },
        hash: PayloadHash::of(arrived.id.payload),
        previous: arrived.previous.map(PayloadHash::of),
        kind: Kind(u64::from(arrived.kind.0)),
        bytes: arrived.bytes.clone(),
    }
}

fn hubs(connection: &Connection) -> Result<Vec<crate::LogId>, Error> {
    Ok(known::hub_logs(connection)?.into_iter().map(|hub| hub.log).collect())
}

fn have_set<'r>(of: impl Iterator<Item = (&'r crate::LogId, &'r Runs)>) -> HaveSet {
    let mut have = HaveSet::default();
    of.for_each(|(log, runs)| have.put(log.of_record(), runs));
    have
}

/// The runs of logs that are parked. They are passed on like any other.
fn parked(connection: &Connection) -> Result<BTreeMap<crate::LogId, Runs>, Error> {
    let mut statement = connection
        .prepare_cached("SELECT log, seq, hash, previous FROM parked ORDER BY log, seq, arrival")?;
    let rows = statement.query_map([], |row| {
        let previous: Vec<u8> = row.get(3)?;
        Ok((row.get::<_, crate::LogId>(0)?, row.get::<_, Seq>(1)?, row.get::<_, PayloadHash>(2)?, previous))
    })?;
    let mut by_log: BTreeMap<crate::LogId, (Runs, Vec<(u64, record::PayloadHash)>)> = BTreeMap::new();
    for row in rows {
        let (log, place, hash, previous) = row?;
        let Some(seq) = place.of_record() else { continue };
        let previous = previous.try_into().ok().map(record::PayloadHash);
        let (runs, held) = by_log.entry(log).or_default();
        let parent_held = previous.is_some_and(|hash| held.contains(&(place.0.saturating_sub(1), hash)));
        runs.add(Step { seq, previous, hash: hash.of_record() }, parent_held);
        held.push((place.0, hash.of_record()));
        // Only the place right below can be asked for again: what is further down is behind.
        held.retain(|(at, _)| at.saturating_add(1) >= place.0);
    }
    Ok(by_log.into_iter().map(|(log, (runs, _))| (log, runs)).collect())
}

/// Walks a branch back from its end, and returns the lowest of what is held of it, as far as the bytes allow.
fn branch(connection: &Connection, table: &str, wanted: &Wanted, most: usize) -> Result<Vec<Held>, Error> {
    let mut statement = connection.prepare_cached(&format!(
        "SELECT arrival, seq, hash, previous, length(bytes) FROM {table} \
         WHERE log = ?1 AND seq BETWEEN ?2 AND ?3 ORDER BY seq DESC"
    ))?;
    let log = crate::LogId::of(wanted.log);
    let rows = statement.query_map(params![log, Seq::of(wanted.from), Seq::of(wanted.to)], |row| {
        let place = (row.get::<_, i64>(0)?, row.get::<_, Seq>(1)?);
        Ok((place, row.get::<_, PayloadHash>(2)?, row.get::<_, Vec<u8>>(3)?, row.get::<_, i64>(4)?))
    })?;
    let (mut at, mut next) = (Some(Seq::of(wanted.to)), Some(PayloadHash::of(wanted.end)));
    let mut found = Vec::new();
    for row in rows {
        let ((arrival, seq), hash, previous, length) = row?;
        if at == Some(seq) && next == Some(hash) {
            found.push((arrival, usize::try_from(length).unwrap_or(usize::MAX)));
            next = previous.try_into().ok().map(PayloadHash);
            at = seq.0.checked_sub(1).map(Seq);
        }
    }
    let mut room = most;
    let mut held = Vec::new();
    for (arrival, length) in found.into_iter().rev() {
        if length > room && !held.is_empty() {
            break;
        }
        room = room.saturating_sub(length);
        held.extend(bytes(connection, table, arrival)?);
    }
    Ok(held)
}

fn bytes(connection: &Connection, table: &str, arrival: i64) -> Result<Option<Held>, Error> {
    let sql = format!("SELECT {} FROM {table} WHERE arrival = ?1", log::COLUMNS);
    let kept = connection.prepare_cached(&sql)?.query_row([arrival], log::raw)?.proved()?.entry;
    Ok(kept.place.seq.of_record().map(|seq| Held { seq, bytes: kept.bytes }))
}
