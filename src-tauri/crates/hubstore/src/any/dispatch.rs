//! Every call, handed on. A macro writes the three arms: a function cannot, since the stores are of three types.

use std::collections::{BTreeMap, BTreeSet};

use bodies::{PersonId, PhotoHash};
use exchange::run::{Runs, Step, Wanted};
use record::{EntryId, LogId, PayloadHash, Seq};
use tokio::sync::mpsc::{Receiver, Sender};

use super::AnyStore;
use crate::{
    Access, Arrival, Batch, Change, Citation, Cited, Counted, Device, Dump, Enrolment, Error, Filter,
    Follows, Fork, Found, HubPerson, Identity, Ingested, Item, Job, Jobs, Ledger, Limit, LogRow, Logs, Meta,
    Moment, NewEntry, News, ParkedLog, People, PhotoRow, Photos, Purpose, Put, Register, Row, Rows, Standing,
    StoredEntry, Tally, Token, Version, VisitRow, Visits, VisitsAsked, WorkedOut,
};

macro_rules! hand_on {
    ($any:ident, $store:ident => $call:expr) => {
        match $any {
            AnyStore::Memory($store) => $call,
            AnyStore::Sqlite($store) => $call,
            AnyStore::Postgres($store) => $call,
        }
    };
}

impl Access for AnyStore {
    async fn put_token(&self, token: &Token) -> Result<(), Error> {
        hand_on!(self, store => store.put_token(token).await)
    }

    async fn take_token(
        &self,
        purpose: Purpose,
        hash: [u8; 32],
        now: Moment,
    ) -> Result<Option<Token>, Error> {
        hand_on!(self, store => store.take_token(purpose, hash, now).await)
    }

    async fn look_token(
        &self,
        purpose: Purpose,
        hash: [u8; 32],
        now: Moment,
    ) -> Result<Option<Token>, Error> {
        hand_on!(self, store => store.look_token(purpose, hash, now).await)
    }

    async fn enrol_with(
        &self,
        code: [u8; 32],
        now: Moment,
        enrolment: &Enrolment,
    ) -> Result<Option<Enrolment>, Error> {
        hand_on!(self, store => store.enrol_with(code, now, enrolment).await)
    }

    async fn enrolments(&self) -> Result<Vec<Enrolment>, Error> {
        hand_on!(self, store => store.enrolments().await)
    }

    async fn drop_enrolment(&self, log: LogId) -> Result<bool, Error> {
        hand_on!(self, store => store.drop_enrolment(log).await)
    }

    async fn strike(&self, bucket: &str, window: i64) -> Result<u64, Error> {
        hand_on!(self, store => store.strike(bucket, window).await)
    }

    async fn sweep(&self, now: Moment, window: i64) -> Result<u64, Error> {
        hand_on!(self, store => store.sweep(now, window).await)
    }
}

impl Dump for AnyStore {
    async fn dump(&self, to: Sender<Item>) -> Result<(), Error> {
        hand_on!(self, store => store.dump(to).await)
    }

    async fn restore(&self, from: Receiver<Item>) -> Result<u64, Error> {
        hand_on!(self, store => store.restore(from).await)
    }
}

impl Jobs for AnyStore {
    async fn claim(&self, now: Moment, until: Moment, most: u32) -> Result<Vec<Job>, Error> {
        hand_on!(self, store => store.claim(now, until, most).await)
    }

    async fn finish(&self, found: &[(Arrival, Found)]) -> Result<(), Error> {
        hand_on!(self, store => store.finish(found).await)
    }

    async fn requeue(&self, word: &str) -> Result<u64, Error> {
        hand_on!(self, store => store.requeue(word).await)
    }

    async fn found(&self, id: EntryId) -> Result<Option<Found>, Error> {
        hand_on!(self, store => store.found(id).await)
    }

    async fn findings(
        &self,
        word: &str,
        before: Option<Arrival>,
        most: u32,
    ) -> Result<Vec<WorkedOut>, Error> {
        hand_on!(self, store => store.findings(word, before, most).await)
    }

    async fn tally(&self) -> Result<Tally, Error> {
        hand_on!(self, store => store.tally().await)
    }
}

impl Ledger for AnyStore {
    async fn ingest(&self, batch: Batch) -> Result<Ingested, Error> {
        hand_on!(self, store => store.ingest(batch).await)
    }

    async fn append(&self, entries: Vec<NewEntry>) -> Result<Arrival, Error> {
        hand_on!(self, store => store.append(entries).await)
    }

    async fn append_with(&self, entries: Vec<NewEntry>, follows: Follows) -> Result<Arrival, Error> {
        hand_on!(self, store => store.append_with(entries, follows).await)
    }

    async fn tip(&self, log: LogId) -> Result<Option<(Seq, PayloadHash)>, Error> {
        hand_on!(self, store => store.tip(log).await)
    }

    async fn runs(&self, logs: &[LogId]) -> Result<BTreeMap<LogId, Runs>, Error> {
        hand_on!(self, store => store.runs(logs).await)
    }

    async fn holds(&self, ids: &[EntryId]) -> Result<Vec<bool>, Error> {
        hand_on!(self, store => store.holds(ids).await)
    }

    async fn entry(&self, id: EntryId) -> Result<Option<StoredEntry>, Error> {
        hand_on!(self, store => store.entry(id).await)
    }

    async fn branch(&self, wanted: Wanted) -> Result<Vec<StoredEntry>, Error> {
        hand_on!(self, store => store.branch(wanted).await)
    }

    async fn links(&self, log: LogId, from: Seq, to: Seq) -> Result<Vec<Step>, Error> {
        hand_on!(self, store => store.links(log, from, to).await)
    }

    async fn forked(&self, log: LogId, upto: Seq) -> Result<BTreeSet<Seq>, Error> {
        hand_on!(self, store => store.forked(log, upto).await)
    }

    async fn since(&self, after: Arrival, filter: &Filter, limit: Limit) -> Result<News, Error> {
        hand_on!(self, store => store.since(after, filter, limit).await)
    }

    async fn latest(
        &self,
        before: Option<Arrival>,
        filter: &Filter,
        limit: Limit,
    ) -> Result<Vec<StoredEntry>, Error> {
        hand_on!(self, store => store.latest(before, filter, limit).await)
    }

    async fn news_for(&self, logs: &[LogId], after: Arrival, limit: Limit) -> Result<News, Error> {
        hand_on!(self, store => store.news_for(logs, after, limit).await)
    }

    async fn receipts(&self, log: LogId) -> Result<Vec<StoredEntry>, Error> {
        hand_on!(self, store => store.receipts(log).await)
    }

    async fn newest(&self) -> Result<Arrival, Error> {
        hand_on!(self, store => store.newest().await)
    }

    async fn forks(&self) -> Result<Vec<Fork>, Error> {
        hand_on!(self, store => store.forks().await)
    }
}

impl Logs for AnyStore {
    async fn log(&self, log: LogId) -> Result<Option<LogRow>, Error> {
        hand_on!(self, store => store.log(log).await)
    }

    async fn logs_named(&self, logs: &[LogId]) -> Result<BTreeMap<LogId, LogRow>, Error> {
        hand_on!(self, store => store.logs_named(logs).await)
    }

    async fn logs(&self, after: Option<LogId>, most: u32) -> Result<Vec<LogRow>, Error> {
        hand_on!(self, store => store.logs(after, most).await)
    }

    async fn set_standing(&self, log: LogId, standing: Standing) -> Result<(), Error> {
        hand_on!(self, store => store.set_standing(log, standing).await)
    }

    async fn parked(&self) -> Result<Vec<ParkedLog>, Error> {
        hand_on!(self, store => store.parked().await)
    }
}

impl Meta for AnyStore {
    async fn identity(&self) -> Result<Option<Identity>, Error> {
        hand_on!(self, store => store.identity().await)
    }

    async fn begin_epoch(&self, identity: &Identity, settings: &[(&str, &[u8])]) -> Result<(), Error> {
        hand_on!(self, store => store.begin_epoch(identity, settings).await)
    }

    async fn setting(&self, name: &str) -> Result<Option<Vec<u8>>, Error> {
        hand_on!(self, store => store.setting(name).await)
    }

    async fn put_setting(&self, name: &str, value: Option<&[u8]>) -> Result<(), Error> {
        hand_on!(self, store => store.put_setting(name, value).await)
    }

    async fn counted(&self, name: &str) -> Result<Option<Counted>, Error> {
        hand_on!(self, store => store.counted(name).await)
    }
}

impl People for AnyStore {
    async fn put_person(&self, person: &HubPerson) -> Result<(), Error> {
        hand_on!(self, store => store.put_person(person).await)
    }

    async fn person_named(&self, name: &str) -> Result<Option<HubPerson>, Error> {
        hand_on!(self, store => store.person_named(name).await)
    }

    async fn persons(&self) -> Result<Vec<HubPerson>, Error> {
        hand_on!(self, store => store.persons().await)
    }

    async fn people_version(&self) -> Result<Version, Error> {
        hand_on!(self, store => store.people_version().await)
    }

    async fn drop_person(&self, id: PersonId) -> Result<bool, Error> {
        hand_on!(self, store => store.drop_person(id).await)
    }

    async fn put_device(&self, device: &Device) -> Result<(), Error> {
        hand_on!(self, store => store.put_device(device).await)
    }

    async fn device(&self, log: LogId) -> Result<Option<Device>, Error> {
        hand_on!(self, store => store.device(log).await)
    }

    async fn devices(&self) -> Result<Vec<Device>, Error> {
        hand_on!(self, store => store.devices().await)
    }
}

impl Photos for AnyStore {
    async fn photo(&self, photo: PhotoHash) -> Result<Option<PhotoRow>, Error> {
        hand_on!(self, store => store.photo(photo).await)
    }

    async fn photo_as(&self, photo: PhotoHash, length: u64) -> Result<Option<PhotoRow>, Error> {
        hand_on!(self, store => store.photo_as(photo, length).await)
    }

    async fn citations(&self, photo: PhotoHash) -> Result<Vec<Citation>, Error> {
        hand_on!(self, store => store.citations(photo).await)
    }

    async fn holds_photos(&self, photos: &[PhotoHash]) -> Result<Vec<bool>, Error> {
        hand_on!(self, store => store.holds_photos(photos).await)
    }

    async fn photos_of(&self, log: LogId, most: u32) -> Result<Vec<(PhotoHash, bool)>, Error> {
        hand_on!(self, store => store.photos_of(log, most).await)
    }

    async fn missing_photos(&self, after: Option<PhotoHash>, most: u32) -> Result<Vec<Cited>, Error> {
        hand_on!(self, store => store.missing_photos(after, most).await)
    }

    async fn piece_came(&self, photo: PhotoHash, length: u64, piece: u32) -> Result<(), Error> {
        hand_on!(self, store => store.piece_came(photo, length, piece).await)
    }

    async fn forget_pieces(&self, photo: PhotoHash, length: u64) -> Result<(), Error> {
        hand_on!(self, store => store.forget_pieces(photo, length).await)
    }

    async fn came_whole(&self, photo: PhotoHash, length: u64) -> Result<(), Error> {
        hand_on!(self, store => store.came_whole(photo, length).await)
    }

    async fn went_missing(&self, photo: PhotoHash) -> Result<(), Error> {
        hand_on!(self, store => store.went_missing(photo).await)
    }
}

impl Register for AnyStore {
    async fn put_rows(&self, rows: Rows) -> Result<Put, Error> {
        hand_on!(self, store => store.put_rows(rows).await)
    }

    async fn would_put(&self, rows: &Rows) -> Result<Put, Error> {
        hand_on!(self, store => store.would_put(rows).await)
    }

    async fn changes(&self, area: &str, after: Version, most: u32) -> Result<Vec<Change>, Error> {
        hand_on!(self, store => store.changes(area, after, most).await)
    }

    async fn areas(&self) -> Result<Vec<(String, Version)>, Error> {
        hand_on!(self, store => store.areas().await)
    }

    async fn row(&self, tag: &str) -> Result<Option<Row>, Error> {
        hand_on!(self, store => store.row(tag).await)
    }

    async fn rows(&self, after: &str, most: u32) -> Result<Vec<Row>, Error> {
        hand_on!(self, store => store.rows(after, most).await)
    }

    async fn history(&self, tag: &str) -> Result<Vec<Change>, Error> {
        hand_on!(self, store => store.history(tag).await)
    }
}

impl Visits for AnyStore {
    async fn visits(&self, asked: &VisitsAsked) -> Result<Vec<VisitRow>, Error> {
        hand_on!(self, store => store.visits(asked).await)
    }

    async fn visit_count(&self) -> Result<u64, Error> {
        hand_on!(self, store => store.visit_count().await)
    }
}
