//! A hub that keeps entries in memory and checks every signature; what it counts, tests look at.

use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;

use carry::faulty::MemoryLink;
use carry::{Link, LinkError};
use exchange::message::{self, Answer, Hello, Welcome};
use exchange::run::Runs;
use exchange::session::Route;
use exchange::{have::HaveSet, intake, packed, plan};
use record::{EntryId, LogId, PublicKey, Strict};

/// A welcome as its bytes are on the wire: protocol 1, an epoch of fives, and nothing wanted.
pub(crate) fn a_welcome() -> Welcome {
    let mut bytes = vec![0xa6, 1, 1, 2, 0x50];
    bytes.extend([5; 16]);
    bytes.extend([3, 0x58, 32]);
    bytes.extend([0; 32]);
    bytes.extend([4, 0x80, 5, 0x80, 6, 0x80]);
    message::read(&bytes).unwrap()
}

#[derive(Default)]
pub(crate) struct Hub {
    pub(crate) entries: RefCell<BTreeMap<EntryId, Vec<u8>>>,
    runs: RefCell<BTreeMap<LogId, Runs>>,
    sessions: RefCell<BTreeMap<[u8; 32], PublicKey>>,
    given: Cell<u8>,
    pub(crate) came_again: Cell<u32>,
    pub(crate) largest_push: Cell<usize>,
}

impl Hub {
    pub(crate) fn link(&self) -> impl Link + '_ {
        MemoryLink::to(|route, question| self.answer(route, question))
    }

    /// What it cannot read it refuses as a server does.
    fn answer(&self, route: Route, question: &[u8]) -> Result<Vec<u8>, LinkError> {
        let refused = || LinkError::Refused { status: 400, word: "bad".into(), wait: None };
        let question = packed::unpack(question, carry::MOST_ANSWER).map_err(|_| refused())?;
        let answer = match route {
            Route::Hello => self.welcome(&message::read(&question).map_err(|_| refused())?),
            Route::Push => self.push(&question).ok_or_else(refused)?,
        };
        Ok(packed::pack(&answer).unwrap())
    }

    fn welcome(&self, hello: &Hello) -> Vec<u8> {
        let key = PublicKey::from_cose(&hello.key).unwrap();
        let wanted = self.wanted(&hello.have);
        let session = self.session_for(key);
        message::write(&Welcome { session, wanted, ..a_welcome() }).unwrap()
    }

    fn push(&self, question: &[u8]) -> Option<Vec<u8>> {
        let key = |session: &[u8; 32]| self.sessions.borrow_mut().remove(session);
        let whose = self.sessions.borrow().get(&message::session_of(question).ok()?).cloned();
        let push = message::read_push(question, key, &Strict).ok()?;
        let keys = intake::keys(push.keys.iter().map(|key| &***key));
        let came = intake::entries(push.entries.iter().map(|entry| &***entry), &keys, |_| None, &Strict);
        assert_eq!(came.bad, vec![]);
        let size = came.entries.iter().map(|entry| entry.bytes.len()).sum();
        self.largest_push.set(self.largest_push.get().max(size));
        for arrived in came.entries {
            let step = arrived.step();
            if self.entries.borrow_mut().insert(arrived.id, arrived.bytes).is_some() {
                self.came_again.set(self.came_again.get() + 1);
                continue;
            }
            let parent = step.previous.is_some_and(|before| {
                self.entries.borrow().keys().any(|held| held.log == arrived.id.log && held.payload == before)
            });
            self.runs.borrow_mut().entry(arrived.id.log).or_default().add(step, parent);
        }
        let answer = Answer {
            session: self.session_for(whose?),
            refused: vec![],
            wanted: vec![],
            keys: vec![],
            entries: vec![],
            news: 0,
            pages: vec![],
            more: false,
        };
        Some(message::write(&answer).unwrap())
    }

    fn wanted(&self, theirs: &HaveSet) -> Vec<exchange::run::Wanted> {
        let entries = self.entries.borrow();
        let held: Vec<EntryId> =
            plan::ends(theirs).into_iter().filter(|end| entries.contains_key(end)).collect();
        plan::wanted(theirs, &self.runs.borrow(), &held)
    }

    fn session_for(&self, key: PublicKey) -> [u8; 32] {
        self.given.set(self.given.get().wrapping_add(1));
        let session = [self.given.get(); 32];
        self.sessions.borrow_mut().insert(session, key);
        session
    }
}
