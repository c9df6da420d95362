//! A schedule: what happens to phones, a hub and the links between them, drawn from a seed.

use std::collections::BTreeSet;

use bodies::{Grade, PhotoHash};
use exchange::message;
use exchange::session::{Broken, Route, Session, Step};
use record::{EntryId, PublicKey};

use crate::chance::Chance;
use crate::cheap::Signing;
use crate::house::House;
use crate::hubside::HubSide;
use crate::phone::{Phone, Write};
use crate::{photos, tell};

/// How good the links are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Links {
    /// As in the field.
    Bad,
    /// At the end, when everything is to come together.
    Good,
}

/// Everything.
pub struct World<P: Phone, H: House> {
    pub chance: Chance,
    pub hub: HubSide<P::Signing, H>,
    pub phones: Vec<P>,
    backups: Vec<Option<P::Backup>>,
    /// The keys of all logs that phones ever wrote.
    written: Vec<PublicKey>,
    /// What a receipt of the hub's present life, or a backup of it, has ever proved to a phone.
    pub stored: BTreeSet<EntryId>,
    pub backed_up: BTreeSet<EntryId>,
    /// The same of photos.
    pub photos_stored: BTreeSet<PhotoHash>,
    pub photos_backed_up: BTreeSet<PhotoHash>,
    /// How many photos came to the hub.
    pub photos_brought: u32,
    /// The photos that each phone has given up.
    pub freed: Vec<BTreeSet<PhotoHash>>,
    /// Pushes that were seen on the way, to be played again.
    seen: Vec<Vec<u8>>,
    pub deeds: Vec<&'static str>,
}

const PHONES: usize = 3;

impl<P: Phone, H: House> World<P, H> {
    pub async fn from(seed: u64) -> World<P, H> {
        let mut chance = Chance::from(seed);
        let hub = HubSide::found(&mut chance).await;
        let phones = (0..PHONES).map(|_| P::new(&hub.organisation_key(), &mut chance)).collect();
        let mut world: World<P, H> = World {
            chance,
            hub,
            phones,
            backups: (0..PHONES).map(|_| None).collect(),
            written: Vec::new(),
            stored: BTreeSet::new(),
            backed_up: BTreeSet::new(),
            photos_stored: BTreeSet::new(),
            photos_backed_up: BTreeSet::new(),
            photos_brought: 0,
            freed: vec![BTreeSet::new(); PHONES],
            seen: Vec::new(),
            deeds: Vec::new(),
        };
        for at in 0..PHONES {
            let key = world.phones[at].key();
            world.written.push(key);
            // One of them is enrolled later, after it has written and sent.
            if at > 0 {
                world.enrol(at).await;
            }
        }
        world
    }

    /// A supervisor certifies a phone's key, and the phone hears of it.
    async fn enrol(&mut self, at: usize) {
        self.hub.certify(&self.phones[at].key()).await;
        self.confirm(at).await;
    }

    async fn confirm(&mut self, at: usize) {
        let confirmed = self.hub.confirmed(self.phones[at].log()).await;
        self.phones[at].confirmed(&confirmed, &mut self.chance);
    }

    /// Does something.
    pub async fn deed(&mut self) {
        let at = self.chance.below(self.phones.len());
        let deed = match self.chance.below(100) {
            0..27 => self.write(at),
            27..35 => self.photograph(at),
            35..65 => self.exchange(at, Links::Bad).await,
            65..72 => self.relay(at),
            72..76 => self.hub_restarts().await,
            76..79 => self.hub_backs_up().await,
            79..82 => self.hub_is_restored().await,
            82..84 => self.phone_backs_up(at),
            84..86 => self.phone_is_restored(at).await,
            86..88 => self.phone_is_cloned(at),
            88..90 => self.revoke(at).await,
            90..93 => self.adopt().await,
            93..95 => self.change_register().await,
            95..97 => self.phone_is_salvaged(at).await,
            97 => self.free(at),
            98 => self.clock_jumps(),
            _ => self.enrol_all().await,
        };
        tell(|| format!("{deed}, phone {at}"));
        self.deeds.push(deed);
        self.note_receipts();
    }

    fn stop_sometimes(&mut self, at: usize) {
        let write = match self.chance.below(20) {
            0 => Write::Fails,
            1 => Write::GoesUnheard,
            _ => Write::Goes,
        };
        self.phones[at].next_write(write, &mut self.chance);
    }

    fn write(&mut self, at: usize) -> &'static str {
        for _ in 0..=self.chance.below(3) {
            self.stop_sometimes(at);
            self.phones[at].write(&mut self.chance);
        }
        "write"
    }

    fn photograph(&mut self, at: usize) -> &'static str {
        self.stop_sometimes(at);
        self.phones[at].photograph(&mut self.chance);
        "photograph"
    }

    fn free(&mut self, at: usize) -> &'static str {
        self.stop_sometimes(at);
        self.phones[at].free(&mut self.chance);
        "free photos"
    }

    fn relay(&mut self, at: usize) -> &'static str {
        let to = self.chance.below(self.phones.len());
        if to != at {
            let bundle = self.phones[at].bundle();
            self.stop_sometimes(to);
            for _ in 0..=self.chance.below(2) {
                self.phones[to].take_bundle(&bundle, &mut self.chance);
            }
        }
        "relay"
    }

    /// An exchange of a phone with the hub, over a link that may do anything.
    pub async fn exchange(&mut self, at: usize, links: Links) -> &'static str {
        if !self.phones[at].has_hub() {
            assert_eq!(links, Links::Bad, "a phone that is enrolled knows the hub");
            return "exchange, but with no hub";
        }
        match links {
            Links::Bad => self.stop_sometimes(at),
            Links::Good => self.phones[at].next_write(Write::Goes, &mut self.chance),
        }
        let most = [200, 2_000, 1 << 20][self.chance.below(3)];
        let proof = P::Signing::proof();
        let (kept, key) = self.phones[at].session();
        let mut session = Session::new(kept, &key, &proof, most);
        let mut step = session.begin();
        while let Ok(Step::Ask { route, body }) = step {
            let travel = if links == Links::Good { 100 } else { self.chance.below(60) };
            let Some(answer) =
                travels(travel, &mut self.hub, &mut self.seen, route, &body, &mut self.chance).await
            else {
                self.phones[at].exchanged(None, &mut self.chance);
                return "exchange, broken off";
            };
            step = session.answered(&answer);
        }
        if links == Links::Good {
            assert!(matches!(step, Ok(Step::Done(_))), "over a good link: {step:?}");
        }
        let done = matches!(step, Ok(Step::Done(_)));
        let error = match step {
            Err(Broken::Ledger(error)) => Some(error.to_string()),
            _ => None,
        };
        self.phones[at].exchanged(error, &mut self.chance);
        if done {
            // Records never wait for photos: these go after them, as far as the link lets them.
            photos::bring(self, at, if links == Links::Good { 0 } else { 20 }).await;
        }
        "exchange"
    }

    async fn hub_restarts(&mut self) -> &'static str {
        self.hub.restart(&mut self.chance).await;
        "hub restarts"
    }

    async fn hub_backs_up(&mut self) -> &'static str {
        self.hub.back_up().await;
        "hub backs up"
    }

    async fn hub_is_restored(&mut self) -> &'static str {
        if self.hub.restore(&mut self.chance).await {
            // What was only stored may be lost to the hub now; what was backed up is not.
            self.stored.clear();
            self.photos_stored.clear();
            self.seen.clear();
        }
        "hub is restored"
    }

    fn phone_backs_up(&mut self, at: usize) -> &'static str {
        if let Some(backup) = self.backups.get_mut(at) {
            *backup = Some(self.phones[at].back_up(&mut self.chance));
        }
        "phone backs up"
    }

    async fn phone_is_restored(&mut self, at: usize) -> &'static str {
        if let Some(backup) = self.backups.get(at).and_then(Option::as_ref) {
            self.phones[at].restore(backup, &mut self.chance);
            self.written.push(self.phones[at].key());
            self.enrol(at).await;
        }
        "phone is restored"
    }

    /// Its file was damaged: some of it is lost, and it goes on with a new log.
    async fn phone_is_salvaged(&mut self, at: usize) -> &'static str {
        if !self.phones[at].is_damaged(&mut self.chance) {
            return "phone is damaged, and nothing comes of it";
        }
        self.written.push(self.phones[at].key());
        self.enrol(at).await;
        "phone is salvaged"
    }

    fn phone_is_cloned(&mut self, at: usize) -> &'static str {
        if self.phones.len() < 5 {
            let clone = self.phones[at].clone_of(&mut self.chance);
            self.phones.push(clone);
            self.freed.push(BTreeSet::new());
        }
        "phone is cloned"
    }

    async fn revoke(&mut self, at: usize) -> &'static str {
        let log = self.phones[at].log();
        let last = self.phones[at].tip();
        if self.hub.hub().trusted().await.unwrap().trust().device(log).is_some() {
            self.hub.revoke(log, last.filter(|_| self.chance.percent(70))).await;
        }
        "revoke"
    }

    async fn adopt(&mut self) -> &'static str {
        let entries = self.hub.entries().await;
        let entry = entries[self.chance.below(entries.len())].id;
        self.hub.adopt(entry).await;
        "adopt"
    }

    async fn change_register(&mut self) -> &'static str {
        self.hub.change_register::<P>(&mut self.chance).await;
        "change of the register"
    }

    fn clock_jumps(&mut self) -> &'static str {
        let seconds = i64::try_from(self.chance.below(200_000)).unwrap() - 100_000;
        self.hub.hub().clock.move_by_seconds(seconds);
        "clock jumps"
    }

    /// Everyone who is not enrolled is, and so is every log that a phone wrote before it was restored.
    pub async fn enrol_all(&mut self) -> &'static str {
        for key in self.written.clone() {
            // A hub that was restored may have lost a certificate that nobody could give back.
            let known = self.hub.hub().trusted().await.unwrap().trust().device(key.log()).is_some();
            if !known {
                self.hub.certify(&key).await;
            }
        }
        for at in 0..self.phones.len() {
            if !self.phones[at].has_hub() {
                self.confirm(at).await;
            }
        }
        "enrol"
    }

    /// Notes what phones would call received, while they know the hub's present life. One on which nothing was written since
    /// says what it said then, and meets another life of the hub only by a write.
    fn note_receipts(&mut self) {
        let epoch = Some(self.hub.epoch());
        for (phone, freed) in self.phones.iter().zip(&mut self.freed).filter(|(phone, _)| phone.changed()) {
            *freed = phone.freed();
            if phone.epoch() != epoch {
                continue;
            }
            for (id, grade) in phone.received() {
                self.stored.extend((grade >= Grade::Stored).then_some(id));
                self.backed_up.extend((grade >= Grade::BackedUp).then_some(id));
            }
            for (photo, grade) in phone.photos_received() {
                self.photos_stored.extend((grade >= Grade::Stored).then_some(photo));
                self.photos_backed_up.extend((grade >= Grade::BackedUp).then_some(photo));
            }
        }
    }
}

/// A question on its way to the hub, and the answer on its way back.
async fn travels<S: Signing, H: House>(
    travel: usize,
    hub: &mut HubSide<S, H>,
    seen: &mut Vec<Vec<u8>>,
    route: Route,
    body: &[u8],
    chance: &mut Chance,
) -> Option<Vec<u8>> {
    match travel {
        // Lost on the way there; cut; changed.
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
        // The hub's process or disk stops at one of its writes, and starts again.
        3..6 => {
            hub.house().stops(chance);
            let answer = hub.answer(route, body, chance).await;
            hub.restart(chance).await;
            return answer.filter(|_| chance.percent(50));
        }
        // The hub's storage is full for a while, and its process goes on.
        9..12 => {
            hub.house().fills_up(chance);
            let answer = hub.answer(route, body, chance).await;
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
            if let Some(old) = seen.last().cloned() {
                assert!(hub.answer(Route::Push, &old, chance).await.is_none(), "an old push was taken");
            }
        }
        _ => {}
    }
    let answer = hub.answer(route, body, chance).await;
    if route == Route::Push && answer.is_some() && seen.len() < 4 {
        assert!(message::session_of(body).is_ok());
        seen.push(body.to_vec());
    }
    // Lost on the way back.
    answer.filter(|_| travel != 8)
}
