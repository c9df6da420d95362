//! A phone: its core, its data in a folder, and the real carrier.

use std::path::{Path, PathBuf};
use std::sync::Mutex;

use anyhow::{Context, Result, anyhow, ensure};
use carry::http::{Address, Asking, Client, Pins, ask, enrolled, meet};
use carry::{Around, Cancel, Progress, once};
use exchange::session::{ROUND, Summary};
use field::host::{HostClock, HostEntropy, KeyFolder};
use field::view::{BundleReport, StatusView};
use field::{Entropy, Met, NoEntropy, Ports, Under};
use kit::Core;
use record::{EntryId, Signer, Strict};
use store::Store;

use crate::fifty::Body;
use crate::{Fifty, Hub, Proxy, fifty, network, writing};

/// A phone. Its data goes away with it, unless it was given a folder.
pub struct Phone {
    name: String,
    core: Core,
    bodies: Vec<Body>,
    // Behind the core: it closes its file before the folder goes.
    _folders: kit::Phone,
}

/// The length of a page of its data file.
const PAGE: usize = 4096;

/// What came of an exchange.
pub type Sent = Result<Summary, carry::Error<store::Error>>;

impl Phone {
    /// A new phone with a key of its own.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn new(name: &str) -> Result<Phone> {
        Phone::over(kit::Phone::new()?, name, Box::new(HostEntropy))
    }

    /// The phone that wrote the fifty visits: it has their key, and they are in its log once [`Phone::take_fifty`] put
    /// them there. `folders` keeps its data.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn of_fifty(folders: kit::Phone) -> Result<Phone> {
        let secret = fifty()?.secret;
        Phone::over(folders, "the phone of the fifty", Box::new(FirstThis(Mutex::new(Some(secret)))))
    }

    fn over(folders: kit::Phone, name: &str, entropy: Box<dyn Entropy>) -> Result<Phone> {
        let ports = Ports {
            clock: Box::new(HostClock::start()),
            keys: Box::new(KeyFolder::at(folders.data().join("keys"))),
            entropy,
        };
        let core = Core::open_with(&folders, ports)?;
        core.phone().set_technician(name)?;
        Ok(Phone { name: name.to_owned(), core, bodies: fifty()?.bodies()?, _folders: folders })
    }

    /// What it is called.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Its core.
    #[must_use]
    pub fn core(&self) -> &Core {
        &self.core
    }

    /// What it keeps.
    #[must_use]
    pub fn store(&self) -> &Store {
        self.core.phone().ledger()
    }

    /// Its log.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn log(&self) -> Result<record::LogId> {
        Ok(self.core.phone().exchange_key()?.public().log())
    }

    /// Makes it belong to a hub, from the code to the supervisor's confirmation.
    ///
    /// # Errors
    ///
    /// What either side says.
    pub fn enrol(&self, hub: &Hub, by: &Proxy) -> Result<()> {
        let digits = self.ask_with(&hub.invitation(&self.name)?, by)?;
        hub.confirm(&digits)?;
        self.confirmed(by)
    }

    /// Makes it belong to a hub as the phone of somebody who is written down there.
    ///
    /// # Errors
    ///
    /// What either side says.
    pub fn enrol_for(&self, person: &str, hub: &Hub, by: &Proxy) -> Result<()> {
        let digits = self.ask_with(&hub.invitation_for(person, &self.name)?, by)?;
        hub.confirm(&digits)?;
        self.confirmed(by)
    }

    /// Takes up an invitation: says its code to the hub, and returns the six digits.
    ///
    /// # Errors
    ///
    /// What either side says.
    pub fn ask_with(&self, invitation: &str, by: &Proxy) -> Result<String> {
        let phone = self.core.phone();
        let invited = phone.enrol_begin(invitation)?;
        let (address, runtime, cancel) = (address(by)?, network()?, Cancel::default());
        let hub = meet(address.clone(), invited.organisation, &Strict, runtime.clone(), cancel.clone())?;
        let client = Client::new(address, Pins::Only(hub.pins.clone()), runtime, cancel)?;
        let (code, key, label, proof) = (&invited.code, &invited.key, &invited.label, &invited.proof);
        ask(&client, Asking { code, key, label, proof })?;
        let met = Met { hub: hub.hub, pins: hub.pins.into_iter().collect() };
        Ok(phone.enrol_asked(&invited, &met)?.digits)
    }

    /// Asks whether it was confirmed, and takes the certificate.
    ///
    /// # Errors
    ///
    /// When it was not.
    pub fn confirmed(&self, by: &Proxy) -> Result<()> {
        let phone = self.core.phone();
        let awaited = phone.enrol_awaited()?.context("nothing is waited for")?;
        let pins = Pins::Only(awaited.met.pins.iter().copied().collect());
        let client = Client::new(address(by)?, pins, network()?, Cancel::default())?;
        let chain = enrolled(&client, awaited.log)?.context("not confirmed yet")?;
        phone.enrol_confirmed(&chain.keys, &chain.entries)?;
        Ok(())
    }

    /// Signs so many visits, whose bodies are those of the frozen fifty in turn, and returns their names.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn write(&self, visits: usize) -> Result<Vec<EntryId>> {
        let key = self.core.phone().exchange_key()?;
        let tip = self.store().tip(store::LogId::of(key.public().log()))?;
        let begun = usize::try_from(tip.map_or(0, |tip| tip.seq.0))?;
        let bodies = self.bodies.iter().cycle().skip(begun % self.bodies.len().max(1)).take(visits);
        bodies.map(|body| writing::write(self.store(), &key, body.kind, &body.bytes)).collect()
    }

    /// Puts the fifty visits into its log, which is empty.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn take_fifty(&self, fifty: &Fifty) -> Result<()> {
        for entry in &fifty.entries {
            self.store().append(&writing::of_bytes(entry)?)?;
        }
        Ok(())
    }

    /// Exchanges once with whatever the proxy leads to.
    ///
    /// # Errors
    ///
    /// Why it broke off.
    pub fn exchange(&self, by: &Proxy) -> Sent {
        self.exchange_at(&by.at().to_string())
    }

    /// Exchanges once at an address.
    ///
    /// # Errors
    ///
    /// Why it broke off.
    pub fn exchange_at(&self, address: &str) -> Sent {
        let gone = |error: &dyn std::fmt::Display| store::Error::Io { what: error.to_string() };
        let phone = self.core.phone();
        let key = phone.exchange_key().map_err(|error| carry::Error::Ledger(gone(&error)))?;
        let client = self.client(address)?;
        let sent = once(self.store(), &key, &Strict, &client, &Quiet, ROUND);
        phone.exchanged();
        sent
    }

    /// Writes a bundle of what waits, and returns where it is.
    ///
    /// # Errors
    ///
    /// What the core says; also when not everything went in.
    pub fn writes_file(&self) -> Result<PathBuf> {
        let made = self.core.phone().bundle_make()?;
        ensure!(made.messages.is_empty(), "{:?}", made.messages);
        Ok(made.path.into())
    }

    /// Takes a bundle in as its page does, and returns what the screen says.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn takes_file(&self, file: &Path) -> Result<BundleReport> {
        let upload = self.core.upload(&std::fs::read(file)?)?;
        Ok(self.core.phone().bundle_take(&upload)?)
    }

    /// A client that takes what the phone would take for its hub. A phone that cannot say takes nothing.
    pub(crate) fn client(&self, address: &str) -> Result<Client, carry::LinkError> {
        let way = self.core.phone().way_to_hub().ok().flatten();
        let pins = way.map(|way| way.pins).unwrap_or_default();
        let runtime = network().map_err(|_| carry::LinkError::Unreachable)?;
        let address = Address::read(address).ok_or(carry::LinkError::Unreachable)?;
        Client::new(address, Pins::Only(pins.into_iter().collect()), runtime, Cancel::default())
    }

    /// Exchanges until it went well, and returns what came of the last time.
    ///
    /// # Errors
    ///
    /// Why the last of thirty tries broke off.
    pub fn exchange_until_well(&self, by: &Proxy) -> Result<Summary> {
        let mut last = None;
        for _ in 0..30 {
            match self.exchange(by) {
                Ok(summary) => return Ok(summary),
                Err(error) => last = Some(error),
            }
            std::thread::sleep(std::time::Duration::from_millis(200));
        }
        Err(anyhow!("{} could not send: {last:?}", self.name))
    }

    /// Closes it, spoils each page of its data file that holds one of these entries' bytes, and starts it again.
    ///
    /// # Errors
    ///
    /// What the core says, and when no page holds an entry.
    pub fn spoilt(self, entries: &[Vec<u8>]) -> Result<Phone> {
        let Phone { name, core, _folders: folders, .. } = self;
        core.phone().suspend()?;
        drop(core);
        let path = folders.data().join("headmark.db");
        let mut file = std::fs::read(&path)?;
        for entry in entries {
            // Its last bytes: its first may stand on a page with others.
            let needle = entry.get(entry.len().saturating_sub(40)..).context("an entry is longer")?;
            let at = file.windows(needle.len()).position(|bytes| bytes == needle);
            let page = at.context("no page holds the entry")? / PAGE * PAGE;
            file.get_mut(page..page + PAGE).context("half a page")?.fill(0xa5);
        }
        std::fs::write(&path, file)?;
        Phone::over(folders, &name, Box::new(HostEntropy))
    }

    /// Returns the names of all entries of its own log.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn own(&self) -> Result<Vec<EntryId>> {
        self.held_of(self.log()?)
    }

    /// Returns the names of all entries that it holds of a log.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn held_of(&self, log: record::LogId) -> Result<Vec<EntryId>> {
        let from = store::Place { log: store::LogId::of(log), seq: store::Seq(1) };
        let entries = self.store().entries(from, u32::MAX)?;
        entries.iter().map(|entry| Ok(record::open(&entry.entry.bytes)?.id)).collect()
    }

    /// Returns the names of those that the hub said it has received.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn received(&self) -> Result<Vec<EntryId>> {
        let mut received = Vec::new();
        for id in self.own()? {
            let place = store::Place { log: store::LogId::of(id.log), seq: store::Seq::of(id.seq) };
            if self.store().stands(place)?.is_some_and(store::Stands::is_at_hub) {
                received.push(id);
            }
        }
        Ok(received)
    }

    /// Returns the line that says where all records are.
    ///
    /// # Errors
    ///
    /// What the core says.
    pub fn status(&self) -> Result<StatusView> {
        Ok(self.core.phone().sending_status(&Under::default())?)
    }
}

fn address(by: &Proxy) -> Result<Address> {
    Address::read(&by.at().to_string()).context("no address")
}

/// Nobody listens, and nobody stops it.
pub(crate) struct Quiet;

impl Around for Quiet {
    fn told(&self, _: &Progress) {}

    fn is_stopped(&self) -> bool {
        false
    }
}

/// Chance that gives a secret first that is known, and then the host's.
struct FirstThis(Mutex<Option<[u8; 32]>>);

impl Entropy for FirstThis {
    fn fill(&self, bytes: &mut [u8]) -> Result<(), NoEntropy> {
        let known = self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner).take();
        match known {
            Some(secret) if secret.len() == bytes.len() => {
                bytes.copy_from_slice(&secret);
                Ok(())
            }
            _ => HostEntropy.fill(bytes),
        }
    }
}
