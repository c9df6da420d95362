//! Links without a network, and links that break: for tests that need every kind of break at a chosen place.

use std::cell::{Cell, RefCell};

use exchange::session::Route;

use crate::{Link, LinkError};

/// A link straight into a function that answers, such as a hub in memory.
#[derive(Debug)]
pub struct MemoryLink<F>(F);

impl<F: Fn(Route, &[u8]) -> Result<Vec<u8>, LinkError>> MemoryLink<F> {
    /// Makes the link.
    pub fn to(hub: F) -> MemoryLink<F> {
        MemoryLink(hub)
    }
}

impl<F: Fn(Route, &[u8]) -> Result<Vec<u8>, LinkError>> Link for MemoryLink<F> {
    fn ask(&self, route: Route, question: &[u8]) -> Result<Vec<u8>, LinkError> {
        (self.0)(route, question)
    }
}

/// What goes wrong with one question.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fault {
    /// Nothing.
    None,
    /// The link breaks after this many bytes of the question: the other side never sees it whole, and drops it.
    CutQuestion(usize),
    /// The question arrives, and the link breaks after this many bytes of the answer.
    CutAnswer(usize),
    /// The answer comes, cut after this many bytes, as if it were whole.
    ShortAnswer(usize),
    /// A byte of the answer, counted round its length, is turned.
    TurnedAnswer(usize),
    /// The question arrives twice; the answer to the second is given.
    Twice,
    /// The question arrives, and its answer comes when nobody waits any more.
    Late,
    /// Nobody is there.
    Gone,
}

/// A link on which chosen questions go wrong.
#[derive(Debug)]
pub struct FaultyLink<'l, L: ?Sized> {
    under: &'l L,
    faults: RefCell<std::collections::VecDeque<Fault>>,
    asked: Cell<u32>,
    bytes: Cell<(u64, u64)>,
}

impl<'l, L: Link + ?Sized> FaultyLink<'l, L> {
    /// Puts faults before a link: the first for the first question, and so on; later ones go well.
    pub fn over(under: &'l L, faults: impl IntoIterator<Item = Fault>) -> FaultyLink<'l, L> {
        let faults = RefCell::new(faults.into_iter().collect());
        FaultyLink { under, faults, asked: Cell::new(0), bytes: Cell::new((0, 0)) }
    }

    /// Returns how many questions were asked: the round trips.
    #[must_use]
    pub fn asked(&self) -> u32 {
        self.asked.get()
    }

    /// Returns the bytes of the questions and of the answers that went well.
    #[must_use]
    pub fn bytes(&self) -> (u64, u64) {
        self.bytes.get()
    }
}

impl<L: Link + ?Sized> Link for FaultyLink<'_, L> {
    fn ask(&self, route: Route, question: &[u8]) -> Result<Vec<u8>, LinkError> {
        self.asked.set(self.asked.get() + 1);
        let fault = self.faults.borrow_mut().pop_front().unwrap_or(Fault::None);
        let (up, down) = self.bytes.get();
        let answer = match fault {
            Fault::Gone => return Err(LinkError::Unreachable),
            // What was cut within its length is never whole; one cut behind its end had arrived.
            Fault::CutQuestion(at) if at < question.len() => return Err(LinkError::Broken),
            Fault::CutQuestion(_) | Fault::CutAnswer(_) => {
                self.under.ask(route, question)?;
                return Err(LinkError::Broken);
            }
            Fault::Late => {
                self.under.ask(route, question)?;
                return Err(LinkError::TimedOut);
            }
            Fault::Twice => {
                self.under.ask(route, question)?;
                self.under.ask(route, question)?
            }
            Fault::ShortAnswer(at) => {
                let mut answer = self.under.ask(route, question)?;
                answer.truncate(at);
                answer
            }
            Fault::TurnedAnswer(at) => turned(self.under.ask(route, question)?, at),
            Fault::None => self.under.ask(route, question)?,
        };
        self.bytes.set((up + question.len() as u64, down + answer.len() as u64));
        Ok(answer)
    }
}

fn turned(mut answer: Vec<u8>, at: usize) -> Vec<u8> {
    let at = at.checked_rem(answer.len()).unwrap_or(0);
    if let Some(byte) = answer.get_mut(at) {
        *byte ^= 0x20;
    }
    answer
}
