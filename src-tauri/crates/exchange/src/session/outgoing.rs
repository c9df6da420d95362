//! What a session brings to the hub.

use std::collections::BTreeMap;

use minicbor::bytes::ByteVec;
use record::{Proof, Seq, Signer};

use super::ledger::{Held, Ledger};
use super::machine::{Session, State};
use super::step::{Broken, Route, Step};
use crate::message::{self, Push};
use crate::run::Wanted;

/// The most branches that one push asks to be given back.
const MOST_LACKS: usize = 100;

/// Keys, and entries of their logs.
type Brought = (Vec<ByteVec>, Vec<ByteVec>);

impl<L: Ledger, S: Signer, P: Proof + ?Sized> Session<'_, L, S, P> {
    /// Puts what the hub lacks on the list, each once a session: what is not held here is not asked for twice.
    pub(super) fn ask_for(&mut self, wanted: &[Wanted]) {
        for wanted in wanted.iter().filter(|wanted| wanted.from <= wanted.to) {
            if self.asked.insert(*wanted) {
                self.wanted.push_back(*wanted);
            }
        }
    }

    pub(super) fn push(&mut self, session: [u8; 32]) -> Result<Step, Broken<L::Error>> {
        let (keys, entries) = self.next_entries()?;
        let marks = self.ledger.marks().map_err(Broken::Ledger)?;
        let have = (marks.give_back && !self.told_back)
            .then(|| self.ledger.have_of_hubs())
            .transpose()
            .map_err(Broken::Ledger)?;
        self.told_back |= have.is_some();
        let lacks = self.ledger.lacks().map_err(Broken::Ledger)?;
        self.lacked = asks(lacks);
        self.news = marks.news;
        let push = Push {
            session,
            keys,
            entries,
            news: marks.news,
            areas: marks.areas,
            about: self.ledger.about().map_err(Broken::Ledger)?,
            have,
            last: self.wanted.is_empty(),
            lacks: (!self.lacked.is_empty()).then(|| self.lacked.clone()),
        };
        self.summary.rounds += 1;
        self.state = State::Pushed;
        Ok(Step::Ask { route: Route::Push, body: message::write_push(&push, self.signer)? })
    }

    /// Takes entries off the list, as many as one push holds, with the keys of their logs.
    fn next_entries(&mut self) -> Result<Brought, Broken<L::Error>> {
        let (mut keys, mut entries) = (BTreeMap::new(), Vec::new());
        let mut room = self.most.max(1);
        while room > 0
            && let Some(wanted) = self.wanted.pop_front()
        {
            let held = self.ledger.branch(&wanted, room).map_err(Broken::Ledger)?;
            if !held.is_empty()
                && !keys.contains_key(&wanted.log)
                && let Some(key) = self.ledger.key(wanted.log).map_err(Broken::Ledger)?
            {
                keys.insert(wanted.log, ByteVec::from(key.cose().to_vec()));
            }
            self.keep_rest(wanted, held.last());
            for entry in held {
                room = room.saturating_sub(entry.bytes.len());
                self.summary.sent += 1;
                self.summary.sent_bytes += entry.bytes.len() as u64;
                entries.push(ByteVec::from(entry.bytes));
            }
        }
        self.summary.left = self.wanted.iter().map(Wanted::places).sum();
        Ok((keys.into_values().collect(), entries))
    }

    /// Puts what is left of a branch back. Where nothing came of it, it is not held here: nobody waits for it.
    fn keep_rest(&mut self, wanted: Wanted, last: Option<&Held>) {
        let rest = last.map(|last| last.seq).filter(|last| *last < wanted.to);
        if let Some(from) = rest.and_then(Seq::next) {
            self.wanted.push_front(Wanted { from, ..wanted });
        }
    }
}

/// What one push asks for of what is lacking here. The rest comes up when that was given.
pub(super) fn asks(mut lacks: Vec<Wanted>) -> Vec<Wanted> {
    lacks.truncate(MOST_LACKS);
    lacks
}
