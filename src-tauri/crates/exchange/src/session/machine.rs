//! The machine itself: from the first question to the last answer.

use std::collections::{BTreeSet, VecDeque};

use bodies::Epoch;
use record::{Proof, Signer};

use super::ledger::Ledger;
use super::outgoing::asks;
use super::step::{Broken, Route, Step, Summary};
use crate::Error;
use crate::intake::Intake;
use crate::message::{self, Answer, Hello, PROTOCOL, Welcome};
use crate::run::Wanted;

/// The most bytes of entries in one push.
pub const ROUND: usize = 1024 * 1024;

/// What the session waits for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum State {
    Greeted,
    Pushed,
    Over,
}

/// A phone's side of one exchange.
pub struct Session<'a, L, S, P: ?Sized> {
    pub(super) ledger: &'a L,
    pub(super) signer: &'a S,
    pub(super) proof: &'a P,
    pub(super) most: usize,
    pub(super) state: State,
    pub(super) epoch: Option<Epoch>,
    pub(super) wanted: VecDeque<Wanted>,
    pub(super) asked: BTreeSet<Wanted>,
    pub(super) told_back: bool,
    /// What the hub was last asked to give back to this phone.
    pub(super) lacked: Vec<Wanted>,
    /// The number of the last news when this push was made.
    pub(super) news: u64,
    pub(super) summary: Summary,
}

impl<'a, L: Ledger, S: Signer, P: Proof + ?Sized> Session<'a, L, S, P> {
    /// Makes one. `most` bounds the bytes of entries in one push: [`ROUND`], or less after a link broke.
    pub fn new(ledger: &'a L, signer: &'a S, proof: &'a P, most: usize) -> Session<'a, L, S, P> {
        Session {
            ledger,
            signer,
            proof,
            most,
            state: State::Over,
            epoch: None,
            wanted: VecDeque::new(),
            asked: BTreeSet::new(),
            told_back: false,
            lacked: Vec::new(),
            news: 0,
            summary: Summary::default(),
        }
    }

    /// Says the first question.
    ///
    /// # Errors
    ///
    /// What the ledger gives.
    pub fn begin(&mut self) -> Result<Step, Broken<L::Error>> {
        self.epoch = self.ledger.marks().map_err(Broken::Ledger)?.epoch;
        let have = self.ledger.have().map_err(Broken::Ledger)?;
        let key = self.signer.public().cose().to_vec();
        let body = message::write(&Hello { protocol: PROTOCOL, key, have, epoch: self.epoch })?;
        self.state = State::Greeted;
        self.summary.rounds = 1;
        Ok(Step::Ask { route: Route::Hello, body })
    }

    /// Returns what came of it so far.
    #[must_use]
    pub fn summary(&self) -> &Summary {
        &self.summary
    }

    /// Takes an answer, and says what is next.
    ///
    /// # Errors
    ///
    /// What is wrong with the answer, and what the ledger gives. Everything taken before stays.
    pub fn answered(&mut self, answer: &[u8]) -> Result<Step, Broken<L::Error>> {
        match self.state {
            State::Greeted => self.welcomed(&message::read(answer)?),
            State::Pushed => self.told(&message::read(answer)?),
            State::Over => Err(Error::OutOfTurn.into()),
        }
    }

    fn welcomed(&mut self, welcome: &Welcome) -> Result<Step, Broken<L::Error>> {
        if welcome.protocol != PROTOCOL {
            return Err(Error::OtherProtocol(welcome.protocol).into());
        }
        if self.epoch != Some(welcome.epoch) {
            self.meet(welcome)?;
        }
        self.ask_for(&welcome.wanted);
        self.push(welcome.session)
    }

    /// A hub of another epoch must show that the organisation knows it, before anything is sent to it.
    fn meet(&mut self, welcome: &Welcome) -> Result<(), Broken<L::Error>> {
        let Intake { keys, entries, .. } = self.verified(&welcome.keys, &welcome.trust)?;
        let mut trust = self.ledger.trust().map_err(Broken::Ledger)?;
        trust.learn(entries.iter());
        if trust.hub_of(welcome.epoch).is_none() {
            return Err(Error::OtherHub.into());
        }
        self.summary.new_epoch = self.epoch.is_some();
        self.epoch = Some(welcome.epoch);
        self.take(keys, entries, Vec::new(), None).map(drop)
    }

    fn told(&mut self, answer: &Answer) -> Result<Step, Broken<L::Error>> {
        let Intake { keys, entries, .. } = self.verified(&answer.keys, &answer.entries)?;
        let pages = self.pages(&answer.pages, &entries)?;
        let took = self.take(keys, entries, pages, Some(answer.news))?;
        self.summary.refused.extend(answer.refused.iter().cloned());
        self.ask_for(&answer.wanted);
        // What came and was of no use would come again: a hub that says "more" all the same would be asked for ever; so
        // would one that does not hold what is lacking here.
        let moved = took.entries > 0 || took.pages > 0 || answer.news > self.news;
        let lacks = self.ledger.lacks().map_err(Broken::Ledger)?;
        let lacks_others = !lacks.is_empty() && asks(lacks) != self.lacked;
        if self.wanted.is_empty() && !(answer.more && moved) && !lacks_others {
            self.end()?;
            return Ok(Step::Done(self.summary.clone()));
        }
        self.push(answer.session)
    }
}
