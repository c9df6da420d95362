//! A hub of the invented utility, with a clock that stands.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

use bodies::{HubRole, PersonId};
use hub::Store;
use hub::changing::write_down;
use hub::clock::{Clock, Moment};
use hub::enrol::{Offer, ask, confirm, offer};
use hub::folder::{Folder, SETTINGS_FORMAT, Settings};
use hub::founding::Founding;
use hub::home::{Hub, Signing};
use hub::keys::{OrganisationKey, make_folder, write_private};
use hubstore::{HubPerson, Opening};
use record::{EntryId, LogId, SecretKey, Signer, Strict};
use tempfile::TempDir;

use crate::phone::Phone;

/// 2026-11-25 in milliseconds.
pub(crate) const NOW: i64 = 20_782 * 86_400_000;
pub(crate) const TLS: [[u8; 32]; 2] = [[0x11; 32], [0x12; 32]];

/// A hub, and the folder that it is in.
pub(crate) struct World {
    pub(crate) hub: Hub<Store>,
    pub(crate) clock: Clock,
    pub(crate) folder: TempDir,
    pub(crate) organisation: OrganisationKey,
    /// Where its database lies, unless it is in memory.
    pub(crate) database: PathBuf,
    /// The byte of which the hub's key is made.
    pub(crate) signs: u8,
}

pub(crate) fn key(byte: u8) -> SecretKey {
    SecretKey::take(&mut [byte; 32])
}

impl World {
    /// A new hub.
    pub(crate) async fn new() -> World {
        let folder = tempfile::tempdir().unwrap();
        let store: Store = Opening::at(Folder::at(folder.path()).database()).open().unwrap().into();
        World::of(folder, store).await
    }

    /// A new hub that keeps nothing on a disk.
    pub(crate) async fn in_memory() -> World {
        World::over(hubstore::Memory::new().into()).await
    }

    /// A new hub over a store that is empty.
    pub(crate) async fn over(store: Store) -> World {
        World::of(tempfile::tempdir().unwrap(), store).await
    }

    async fn of(folder: TempDir, store: Store) -> World {
        let clock = Clock::set_at(Moment(NOW));
        let mut organisation = OrganisationKey::make().unwrap();
        let founding = Founding {
            hub: key(0x77).public().clone(),
            label: "Marrowby".into(),
            tls: TLS.to_vec(),
            epoch: [0x42; 16],
            replaces: None,
        };
        let certificate = founding.certify(&mut organisation, clock.now().claimed()).unwrap();
        founding.begin(&store, organisation.public(), &certificate, None).await.unwrap();
        let signing = Signing { key: key(0x77), proof: Strict };
        let hub = Hub::open(store, signing, clock.clone()).await.unwrap();
        let database = Folder::at(folder.path()).database();
        World { hub, clock, folder, organisation, database, signs: 0x77 }
    }

    /// The same database once more, as another process would have it.
    pub(crate) async fn once_more(&self) -> Hub<Store> {
        let store = Opening::at(&self.database).open().unwrap();
        let signing = Signing { key: key(self.signs), proof: Strict };
        Hub::open(store.into(), signing, self.clock.clone()).await.unwrap()
    }

    /// Calls a command of the program on this hub.
    pub(crate) fn command(&self, arguments: &[&str]) -> Output {
        let folder = Folder::at(self.folder.path());
        if folder.settings().is_err() {
            make_folder(&self.folder.path().join("keys")).unwrap();
            write_private(&folder.hub_key(), &[0x77; 32]).unwrap();
            let (label, address) = ("Marrowby".into(), "https://hub.marrowby.example:8443".into());
            folder.put_settings(&Settings { format: SETTINGS_FORMAT.into(), label, address }).unwrap();
        }
        let mut command = Command::new(env!("CARGO_BIN_EXE_headmark-hub"));
        command.arg("--folder").arg(self.folder.path()).args(arguments).stdin(Stdio::null());
        command.env_remove("HEADMARK_HUB_DATABASE").env_remove("HEADMARK_HUB_PHOTOS").output().unwrap()
    }

    /// Calls one that has to go well, and returns what it said.
    pub(crate) fn says(&self, arguments: &[&str]) -> String {
        let output = self.command(arguments);
        let said = [output.stdout, output.stderr].map(|said| String::from_utf8(said).unwrap()).concat();
        assert!(output.status.success(), "{arguments:?}: {said}");
        said
    }

    /// Writes somebody down who signs in with the password `three dry words`.
    pub(crate) async fn person(&self, name: &str, role: HubRole) -> PersonId {
        let secret =
            hub::people::hash_password(hub::people::Password::typed("three dry words".into())).await.unwrap();
        let id = PersonId(hub::chance::bytes().unwrap());
        let person = HubPerson { id, name: name.into(), secret, role };
        write_down(&self.hub, None, &person).await.unwrap();
        id
    }

    /// Enrols a phone as a person would: code, digits, confirmation.
    pub(crate) async fn enrol(&self, phone: &Phone, areas: &[&str]) -> EntryId {
        let code: [u8; 16] = hub::chance::bytes().unwrap();
        let made_for = Offer {
            label: "phone".into(),
            person: [9; 16],
            areas: areas.iter().map(|area| (*area).to_owned()).collect(),
        };
        offer(&self.hub, &code, &made_for).await.unwrap();
        let waits = self.ask(phone, &code).await.expect("the code is good");
        confirm(&self.hub, None, phone.log(), &waits.digits).await.unwrap()
    }

    /// Shows a code with a phone.
    pub(crate) async fn ask(&self, phone: &Phone, code: &[u8; 16]) -> Option<hubstore::Enrolment> {
        let proof = phone.enrol_proof(self.hub.organisation().log(), code, "phone");
        ask(&self.hub, phone.key.public().cose(), code, "phone", &proof).await.unwrap()
    }

    /// The logs that are trusted as phones'.
    pub(crate) async fn trusts(&self, log: LogId) -> bool {
        self.hub.trusted().await.unwrap().trust().device(log).is_some()
    }

    /// What is held of a log, as place and payload.
    pub(crate) async fn held(&self, phone: &Phone) -> BTreeSet<u64> {
        use hubstore::Ledger;
        let runs = self.hub.store.runs(&[phone.log()]).await.unwrap();
        let runs = runs.get(&phone.log()).map(|runs| runs.all().to_vec()).unwrap_or_default();
        runs.iter().flat_map(|run| run.from.get()..=run.to.get()).collect()
    }
}
