//! A schedule: what happens to phones, a hub and the links between them, drawn from a seed.

use std::collections::BTreeSet;

use bodies::{Grade, PhotoHash};
use hubstore::Ledger;
use record::{EntryId, PublicKey};

use crate::air::{Air, Links};
use crate::chance::Chance;
use crate::house::House;
use crate::hubside::HubSide;
use crate::phone::{Phone, Write};
use crate::reached::Reached;
use crate::tell;

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
    /// What goes between them.
    pub air: Air,
    pub deeds: Vec<&'static str>,
    pub reached: Reached,
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
            air: Air::default(),
            deeds: Vec::new(),
            reached: Reached::default(),
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
            27..33 => self.photograph(at),
            33..35 => self.free_what_is_backed_up(at).await,
            35..58 => self.exchange(&[at], Links::Bad).await,
            58..65 => self.exchange_at_once(at).await,
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

    pub fn stop_sometimes(&mut self, at: usize) {
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

    /// Two phones ask at the same time.
    async fn exchange_at_once(&mut self, at: usize) -> &'static str {
        let other = (at + 1 + self.chance.below(self.phones.len() - 1)) % self.phones.len();
        self.exchange(&[at, other], Links::Bad).await
    }

    fn photograph(&mut self, at: usize) -> &'static str {
        self.stop_sometimes(at);
        self.phones[at].photograph(&mut self.chance);
        "photograph"
    }

    /// The way of a photo to its end, as far as the links let it: by chance alone hardly a schedule came to that.
    async fn free_what_is_backed_up(&mut self, at: usize) -> &'static str {
        self.photograph(at);
        self.exchange(&[at], Links::Bad).await;
        self.hub_backs_up().await;
        self.exchange(&[at], Links::Bad).await;
        self.free(at);
        "free what is backed up"
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
            if self.freed.iter().any(|freed| !freed.is_empty()) {
                self.reached.note("the hub restored after photos were freed");
            }
            let received: Vec<EntryId> = self.stored.iter().copied().collect();
            if self.hub.store().holds(&received).await.unwrap().contains(&false) {
                self.reached.note("the hub restored to before what it had received");
            }
            // What was only stored may be lost to the hub now; what was backed up is not.
            self.stored.clear();
            self.photos_stored.clear();
            self.air.forget_seen();
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
        let last = self.phones[at].tip().filter(|_| self.chance.percent(70));
        self.hub.revoke(self.phones[at].log(), last).await;
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
                if self.hub.parked().await.contains_key(&key.log()) {
                    self.reached.note("entries that came before their phone was certified");
                }
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
