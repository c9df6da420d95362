//! A phone, as far as a hub sees one: a key, a log, messages. Written from PROTOCOL.md and FORMAT.md, not from the
//! phone's own code.

use exchange::have::HaveSet;
use exchange::message::{About, Answer, Cursor, Hello, PROTOCOL, Push, Welcome, write_push};
use exchange::run::{Runs, Step};
use hub::exchange::{PushError, Taken, hello, push};
use minicbor::bytes::ByteVec;
use record::{Claimed, Kind, Link, LogId, NewEntry, Sealed, SecretKey, Signer, seal};

use crate::world::{World, key};

pub(crate) struct Phone {
    pub(crate) key: SecretKey,
    pub(crate) entries: Vec<Sealed>,
    pub(crate) news: u64,
    pub(crate) areas: Vec<Cursor>,
}

impl Phone {
    /// A phone with as many notes in its log.
    pub(crate) fn with(byte: u8, notes: usize) -> Phone {
        let mut phone = Phone { key: key(byte), entries: Vec::new(), news: 0, areas: Vec::new() };
        for _ in 0..notes {
            phone.note();
        }
        phone
    }

    pub(crate) fn log(&self) -> LogId {
        self.key.public().log()
    }

    /// Signs something of a kind that no program knows: it is kept like any other.
    pub(crate) fn note(&mut self) {
        self.sign(Kind(4_000), 1, b"\x65hello");
    }

    pub(crate) fn sign(&mut self, kind: Kind, version: u32, body: &[u8]) {
        let link = self.entries.last().map_or(Link::First, Sealed::next);
        let claimed = Claimed { millis: 1_795_600_000_000, offset_minutes: 0 };
        let new = NewEntry { link, kind, body_version: version, claimed, boot: None };
        self.entries.push(seal(&new, body, &self.key).unwrap());
    }

    pub(crate) fn have(&self) -> HaveSet {
        let mut runs = Runs::default();
        for entry in &self.entries {
            let step = Step { seq: entry.id.seq, previous: entry.header.previous, hash: entry.id.payload };
            runs.add(step, true);
        }
        let mut have = HaveSet::default();
        have.put(self.log(), &runs);
        have
    }

    pub(crate) fn hello(&self) -> Hello {
        Hello { protocol: PROTOCOL, key: self.key.public().cose().to_vec(), have: self.have(), epoch: None }
    }

    pub(crate) async fn greets(&self, world: &World) -> Welcome {
        hello(&world.hub, &self.hello(), hub::chance::bytes().unwrap()).await.unwrap()
    }

    /// A push of all that it has; it never says an epoch, so it says each time what it holds of hubs' logs: nothing.
    pub(crate) fn pushing(&self, session: [u8; 32]) -> Push {
        Push {
            session,
            keys: vec![self.key.public().cose().to_vec().into()],
            entries: self.entries.iter().map(|entry| entry.bytes.clone().into()).collect(),
            news: self.news,
            areas: self.areas.clone(),
            about: vec![About { log: self.log(), receipts: Vec::new() }],
            have: Some(HaveSet::default()),
            last: true,
            lacks: None,
        }
    }

    pub(crate) fn proved(&self, message: &Push) -> Vec<u8> {
        write_push(message, &self.key).unwrap()
    }

    /// Greets and pushes all that it has.
    pub(crate) async fn sends(&self, world: &World) -> (Answer, Taken) {
        let session = self.greets(world).await.session;
        self.pushes(world, &self.pushing(session)).await.unwrap()
    }

    pub(crate) async fn pushes(&self, world: &World, message: &Push) -> Result<(Answer, Taken), PushError> {
        push(&world.hub, &self.proved(message), hub::chance::bytes().unwrap()).await
    }

    /// The proof of the key for a code, as documented: `headmark/enrol/1`, the organisation's log, the code, the label.
    pub(crate) fn enrol_proof(&self, organisation: LogId, code: &[u8; 16], label: &str) -> [u8; 64] {
        let message = [b"headmark/enrol/1", &organisation.0[..], code, label.as_bytes()].concat();
        self.key.sign(&message).unwrap().0
    }
}

pub(crate) fn bytes(all: &[ByteVec]) -> Vec<Vec<u8>> {
    all.iter().map(|one| one.to_vec()).collect()
}
