//! What goes between phones and the hub, and what becomes of it on its way.

use exchange::message;
use exchange::session::{Broken, Route, Session, Step};

use crate::chance::Chance;
use crate::cheap::Signing;
use crate::house::House;
use crate::hubside::HubSide;
use crate::phone::{Phone, Write};
use crate::photos;
use crate::reached::Reached;
use crate::world::World;

/// How good the links are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Links {
    /// As in the field.
    Bad,
    /// At the end, when everything is to come together.
    Good,
}

/// What is under way.
#[derive(Default)]
pub struct Air {
    /// Pushes that were answered, to be played again.
    seen: Vec<Vec<u8>>,
    /// Questions that somebody or something holds up: they come when nobody waits for the answer any more.
    late: Vec<(Route, Vec<u8>)>,
}

/// A phone's exchange that is not at its end.
struct Under<'a, P: Phone> {
    at: usize,
    session: Session<'a, P::Kept, P::Key, <P::Signing as Signing>::Proof>,
    step: Result<Step, Broken<<P::Kept as exchange::session::Ledger>::Error>>,
    lost: bool,
}

/// How an exchange ended for a phone.
struct Ended {
    at: usize,
    done: bool,
    lost: bool,
    error: Option<String>,
}

impl<P: Phone> Under<'_, P> {
    fn goes_on(&self) -> bool {
        !self.lost && matches!(self.step, Ok(Step::Ask { .. }))
    }

    fn ended(&self, links: Links) -> Ended {
        if links == Links::Good {
            assert!(matches!(self.step, Ok(Step::Done(_))), "over a good link: {:?}", self.step);
        }
        let error = match &self.step {
            Err(Broken::Ledger(error)) => Some(error.to_string()),
            _ => None,
        };
        let done = !self.lost && matches!(self.step, Ok(Step::Done(_)));
        Ended { at: self.at, done, lost: self.lost, error }
    }
}

impl<P: Phone, H: House> World<P, H> {
    /// Exchanges of phones with the hub, at the same time where there are several, over links that may do anything.
    pub async fn exchange(&mut self, phones: &[usize], links: Links) -> &'static str {
        let with_hub: Vec<usize> = phones.iter().copied().filter(|at| self.phones[*at].has_hub()).collect();
        assert!(links == Links::Bad || with_hub == phones, "a phone that is enrolled knows the hub");
        for at in &with_hub {
            match links {
                Links::Bad => self.stop_sometimes(*at),
                Links::Good => self.phones[*at].next_write(Write::Goes, &mut self.chance),
            }
        }
        let ended = self.sessions(&with_hub, links).await;
        let (mut done, mut lost) = (Vec::new(), 0);
        for ended in ended {
            self.phones[ended.at].exchanged(ended.error, &mut self.chance);
            lost += usize::from(ended.lost);
            done.extend(ended.done.then_some(ended.at));
        }
        for at in done {
            // Records never wait for photos: these go after them, as far as the link lets them.
            photos::bring(self, at, if links == Links::Good { 0 } else { 20 }).await;
        }
        match (with_hub.len(), lost) {
            (0, _) => "exchange, but with no hub",
            (1, 0) => "exchange",
            (1, _) => "exchange, broken off",
            (_, 0) => "exchanges at the same time",
            _ => "exchanges at the same time, broken off",
        }
    }

    async fn sessions(&mut self, phones: &[usize], links: Links) -> Vec<Ended> {
        let proof = P::Signing::proof();
        let sides: Vec<_> = phones.iter().map(|at| (*at, self.phones[*at].session())).collect();
        let mut under: Vec<Under<'_, P>> = Vec::new();
        for (at, (kept, key)) in &sides {
            let most = [200, 2_000, 1 << 20][self.chance.below(3)];
            let mut session = Session::new(*kept, key, &proof, most);
            let step = session.begin();
            under.push(Under { at: *at, session, step, lost: false });
        }
        let mut pushed = None;
        loop {
            let going: Vec<usize> = (0..under.len()).filter(|one| under[*one].goes_on()).collect();
            if going.is_empty() {
                return under.iter().map(|one| one.ended(links)).collect();
            }
            let one = &mut under[going[self.chance.below(going.len())]];
            let Ok(Step::Ask { route, body }) = &one.step else { continue };
            if *route == Route::Push
                && going.len() > 1
                && pushed.replace(one.at).is_some_and(|at| at != one.at)
            {
                self.reached.note("pushes of two phones between each other's questions");
            }
            let (hub, chance, reached) = (&mut self.hub, &mut self.chance, &mut self.reached);
            let travel = if links == Links::Good { 100 } else { chance.below(64) };
            if links == Links::Bad && chance.percent(5) {
                meanwhile::<P, H>(hub, &self.phones[one.at], chance, reached).await;
            }
            match self.air.travels(travel, hub, (*route, body), chance, reached).await {
                Some(answer) => one.step = one.session.answered(&answer),
                None => one.lost = true,
            }
        }
    }
}

/// Something happens at the hub between two questions of a phone.
async fn meanwhile<P: Phone, H: House>(
    hub: &mut HubSide<P::Signing, H>,
    phone: &P,
    chance: &mut Chance,
    reached: &mut Reached,
) {
    match chance.below(5) {
        0 | 1 => {
            hub.change_register::<P>(chance).await;
            reached.note("the register changed during a session");
        }
        2 => {
            hub.back_up().await;
            reached.note("a backup made during a session");
        }
        3 => hub.restart(chance).await,
        _ => {
            if hub.revoke(phone.log(), phone.tip().filter(|_| chance.percent(70))).await {
                reached.note("a phone revoked during its session");
            }
        }
    }
}

impl Air {
    /// A hub of another life knows none of the sessions that were opened before.
    pub fn forget_seen(&mut self) {
        self.seen.clear();
    }

    /// A question on its way to the hub, and the answer on its way back. A link that changes an answer is none: what is
    /// under TLS comes as it was sent, or stops.
    async fn travels<S: Signing, H: House>(
        &mut self,
        travel: usize,
        hub: &mut HubSide<S, H>,
        (route, body): (Route, &[u8]),
        chance: &mut Chance,
        reached: &mut Reached,
    ) -> Option<Vec<u8>> {
        if travel < 40 && !self.late.is_empty() {
            let (route, body) = self.late.swap_remove(chance.below(self.late.len()));
            if hub.answer(route, &body, chance).await.is_some() && route == Route::Push {
                reached.note("a late push taken");
            }
        }
        match travel {
            // Lost on the way there; cut; changed; held up.
            0 => return None,
            1 => return hub.answer(route, &body[..chance.below(body.len())], chance).await.filter(|_| false),
            2 => {
                let mut changed = body.to_vec();
                let at = chance.below(changed.len());
                changed[at] ^= 1 << chance.below(8);
                let answer = hub.answer(route, &changed, chance).await;
                assert!(answer.is_none() || route == Route::Hello, "a changed push was answered");
                return None;
            }
            12 | 13 => {
                self.late.push((route, body.to_vec()));
                return None;
            }
            // The hub's process or disk stops at one of its writes, and starts again.
            3..6 => {
                hub.house().stops(chance);
                let answer = hub.answer(route, body, chance).await;
                if answer.is_none() && route == Route::Push {
                    reached.note("the hub stopped during a push");
                }
                hub.restart(chance).await;
                return answer.filter(|_| chance.percent(50));
            }
            // The hub's storage is full for a while, and its process goes on.
            9..12 => {
                hub.house().fills_up(chance);
                let answer = hub.answer(route, body, chance).await;
                if answer.is_none() && route == Route::Push {
                    reached.note("the hub full during a push");
                }
                hub.house().has_room();
                return answer;
            }
            // It comes twice: the second time it is an old one.
            6 => {
                let first = hub.answer(route, body, chance).await;
                let second = hub.answer(route, body, chance).await;
                assert!(route == Route::Hello || second.is_none(), "a push was taken twice");
                return first;
            }
            // Somebody plays an old push again.
            7 => {
                if let Some(old) = self.seen.last().cloned() {
                    let answer = hub.answer(Route::Push, &old, chance).await;
                    assert!(answer.is_none(), "an old push was taken");
                }
            }
            _ => {}
        }
        let answer = hub.answer(route, body, chance).await;
        if route == Route::Push && answer.is_some() && self.seen.len() < 4 {
            assert!(message::session_of(body).is_ok());
            self.seen.push(body.to_vec());
        }
        match travel {
            // Lost on the way back; cut.
            8 => None,
            14 => answer.map(|mut answer| {
                reached.note("an answer cut");
                answer.truncate(chance.below(answer.len()));
                answer
            }),
            _ => answer,
        }
    }
}
