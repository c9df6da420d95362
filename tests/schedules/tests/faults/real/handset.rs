//! A phone as the app opens it: the core with its use cases, over the real store, on a storage that loses its power.

use std::cell::Cell;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::{Arc, LazyLock};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use bodies::{
    Epoch, Grade, HeldRun, LastTrusted, OBSERVATION, OBSERVATION_VERSION, Observation, PhotoHash,
    RegisterRow, Visit,
};
use domain::visit::Instrument;
use exchange::enrol::Invitation;
use exchange::session::{Ledger, Marks};
use faults_vfs::{Files, Trouble};
use field::{MOST_PIECE, Met, Opening};
use record::{Claimed, EntryId, Kind, Link, NewEntry, PublicKey, SecretKey, Signer, seal};
use store::{Flush, PhotoState, Place, Stands, Store};
use tempfile::TempDir;

use super::device::Device;
use super::hurt::hurt;
use super::shelf::Beside;
use super::storage::Storage;
use crate::chance::Chance;
use crate::cheap::Really;
use crate::phone::{Confirmed, Found, Phone, Write};
use crate::plain::{observed, some_time, written};
use crate::tell;

const FILE: &str = "headmark.db";

/// What is to become of the deed under way.
enum Coming {
    Nothing,
    /// The storage refuses something.
    Refusal,
    /// The power goes. Until then this was there, and was said to be.
    Cut(Box<Said>),
}

/// What a phone has said to be saved.
struct Said {
    entries: BTreeSet<EntryId>,
    photos: BTreeSet<PhotoHash>,
    own: Vec<store::LogId>,
}

/// A phone. One that is not `SYNCED` leaves it to its storage when to store what was written.
pub struct Handset<const SYNCED: bool> {
    /// None only while it is started again. Before its storage, which has to be there while it closes.
    core: Option<field::Phone>,
    storage: Storage,
    device: Device,
    exports: TempDir,
    coming: Coming,
    changed: Cell<bool>,
    /// The photos that were ever taken on it.
    taken: BTreeSet<PhotoHash>,
}

/// Files of a phone, and the photos that were ever taken on it.
pub struct Backup {
    files: Files,
    taken: BTreeSet<PhotoHash>,
}

impl<const SYNCED: bool> Handset<SYNCED> {
    fn starting(device: Device, files: Files, taken: BTreeSet<PhotoHash>) -> Handset<SYNCED> {
        let mut phone = Handset {
            core: None,
            storage: Storage::holding(files),
            device,
            exports: tempfile::tempdir().unwrap(),
            coming: Coming::Nothing,
            changed: Cell::new(true),
            taken,
        };
        phone.core = Some(phone.opened().unwrap());
        phone
    }

    fn opened(&self) -> Result<field::Phone, field::Error> {
        let shelf = Arc::new(Beside(self.storage.plain()));
        let flush = if SYNCED { Flush::AtCommit } else { Flush::Never };
        let opening = Opening::at(FILE).through(self.storage.name()).flush(flush).photos_on(shelf);
        field::Phone::open(opening, self.exports.path().to_owned(), self.device.ports())
    }

    fn core(&self) -> &field::Phone {
        self.core.as_ref().unwrap()
    }

    fn store(&self) -> &Store {
        self.core().ledger()
    }

    /// Ends a deed: where it was stopped, the phone is started again.
    fn ended(&mut self, error: Option<&str>, chance: &mut Chance) {
        self.changed.set(true);
        if let Some(error) = error {
            tell(|| format!("  {error}"));
        }
        match std::mem::replace(&mut self.coming, Coming::Nothing) {
            Coming::Nothing => assert_eq!(error, None, "nothing was wrong with the storage"),
            Coming::Refusal => self.storage.meets(Trouble::None),
            Coming::Cut(said) => {
                self.lose_power(chance);
                said.must_be_in(self);
            }
        }
    }

    /// A deed of the person or the app, which the storage may not let come to its end.
    fn does<T, E: ToString>(
        &mut self,
        chance: &mut Chance,
        deed: impl FnOnce(&field::Phone, &mut Chance) -> Result<T, E>,
    ) {
        let error = deed(self.core(), chance).err().map(|error| error.to_string());
        self.ended(error.as_deref(), chance);
    }

    /// The power goes, now or where it went already, and the phone is started again; now and then it goes a second time
    /// meanwhile.
    fn lose_power(&mut self, chance: &mut Chance) {
        self.storage.meets(Trouble::OffAfter(0));
        self.core = None;
        self.storage.was_cut(chance);
        if chance.percent(25) {
            self.storage.meets(Trouble::OffAfter(chance.below(30) as u64));
            drop(self.opened());
            self.storage.was_cut(chance);
        }
        self.core = Some(self.opened().unwrap());
    }

    /// Ends the app, without its own doing.
    fn is_killed(&mut self) {
        self.storage.meets(Trouble::OffAfter(0));
        self.core = None;
        self.storage.meets(Trouble::None);
    }

    fn is_here(&self, photo: PhotoHash) -> bool {
        self.store().photo_state(photo).unwrap() == Some(PhotoState::Here)
    }

    fn said(&self) -> Said {
        Said {
            entries: entries(self.store()).into_keys().collect(),
            photos: self.taken.iter().copied().filter(|photo| self.is_here(*photo)).collect(),
            own: self.store().own_logs().unwrap(),
        }
    }

    /// The photos that entries name.
    fn cited(&self) -> BTreeSet<PhotoHash> {
        let kept = self.store().of_kind(store::Kind(u64::from(OBSERVATION.0))).unwrap();
        let photos = kept
            .iter()
            .filter_map(|kept| Observation::of_entry(&record::open(&kept.entry.bytes).unwrap()).ok()?.photo);
        photos.map(|photo| photo.hash).collect()
    }
}

impl Said {
    /// All that was said to be saved is there, whenever the power went.
    fn must_be_in<const SYNCED: bool>(&self, phone: &Handset<SYNCED>) {
        let now = phone.said();
        let lost: Vec<_> = self.entries.difference(&now.entries).collect();
        assert!(lost.is_empty(), "lost to a power cut: {lost:?}");
        assert_eq!(self.own, now.own, "the logs that it writes");
        // One that was just freed is not here any more, and was not lost.
        let freed = phone.freed();
        let lost: Vec<_> =
            self.photos.difference(&now.photos).filter(|photo| !freed.contains(*photo)).collect();
        assert!(lost.is_empty(), "photos lost to a power cut: {lost:?}");
    }
}

/// Signs an entry behind the last one of this phone's log and keeps it, as the core does with what it writes.
fn append(
    core: &field::Phone,
    (kind, body_version): (Kind, u32),
    body: &[u8],
    chance: &mut Chance,
) -> Result<(), field::Error> {
    let key = core.exchange_key()?;
    let tip = core.ledger().tip(store::LogId::of(key.public().log()))?;
    let link = tip.map_or(Link::First, |tip| Link::After {
        seq: tip.seq.of_record().unwrap(),
        payload: tip.hash.of_record(),
    });
    let claimed = Claimed { millis: some_time(chance), offset_minutes: 0 };
    let new = NewEntry { link, kind, body_version, claimed, boot: None };
    let sealed = seal(&new, body, &key).unwrap();
    let entry = store::NewEntry {
        place: Place { log: store::LogId::of(sealed.id.log), seq: store::Seq::of(sealed.id.seq) },
        hash: store::PayloadHash::of(sealed.id.payload),
        previous: sealed.header.previous.map(store::PayloadHash::of),
        kind: store::Kind(u64::from(sealed.header.kind.0)),
        bytes: sealed.bytes,
    };
    core.ledger().append(&entry)?;
    Ok(())
}

fn id(entry: &store::NewEntry) -> EntryId {
    EntryId {
        log: entry.place.log.of_record(),
        seq: entry.place.seq.of_record().unwrap(),
        payload: entry.hash.of_record(),
    }
}

/// All entries, those that wait parked too.
fn entries(store: &Store) -> BTreeMap<EntryId, Vec<u8>> {
    let kept = store.newest(None, u32::MAX).unwrap().into_iter().map(|kept| kept.entry);
    let all = kept.chain(store.parked().unwrap());
    all.map(|entry| (id(&entry), entry.bytes)).collect()
}

fn grade(stands: Stands) -> Option<Grade> {
    match stands {
        Stands::Here => None,
        Stands::AlsoElsewhere => Some(Grade::Relayed),
        Stands::Received => Some(Grade::Stored),
        Stands::BackedUp => Some(Grade::BackedUp),
    }
}

/// Takes a file in as the pages send it: in small pieces.
fn upload(core: &field::Phone, bytes: &[u8]) -> String {
    let upload = core.upload_begin(u32::try_from(bytes.len()).unwrap()).unwrap();
    let mut at = 0;
    for piece in bytes.chunks(usize::try_from(MOST_PIECE).unwrap()) {
        core.upload_piece(&upload, at, &STANDARD.encode(piece)).unwrap();
        at += u32::try_from(piece.len()).unwrap();
    }
    upload
}

/// The files of a phone in a folder of the machine, but for those that were put aside.
fn files_in(folder: &Path) -> Files {
    let mut files = Files::new();
    let mut folders = vec![folder.to_owned()];
    while let Some(some) = folders.pop() {
        for path in std::fs::read_dir(some).unwrap().map(|entry| entry.unwrap().path()) {
            let name = path.strip_prefix(folder).unwrap().to_str().unwrap().to_owned();
            if path.is_dir() {
                folders.push(path);
            } else if !name.contains(".damaged-") {
                files.insert(name, std::fs::read(path).unwrap());
            }
        }
    }
    files
}

impl<const SYNCED: bool> Phone for Handset<SYNCED> {
    type Signing = Really;
    type Kept = Store;
    type Key = SecretKey;
    type Backup = Backup;

    fn new(_: &PublicKey, chance: &mut Chance) -> Handset<SYNCED> {
        Handset::starting(Device::new(chance), Files::new(), BTreeSet::new())
    }

    fn key(&self) -> PublicKey {
        self.core().exchange_key().unwrap().public().clone()
    }

    fn tip(&self) -> Option<LastTrusted> {
        let tip = self.store().tip(store::LogId::of(self.log())).unwrap()?;
        Some(LastTrusted { seq: tip.seq.of_record().unwrap(), payload: tip.hash.of_record() })
    }

    fn next_write(&mut self, write: Write, chance: &mut Chance) {
        let soon = chance.below(40) as u64;
        let trouble = match write {
            Write::Goes => Trouble::None,
            Write::GoesUnheard => Trouble::OffAfter(u64::MAX),
            Write::Fails => match chance.below(6) {
                0 => Trouble::FullAfter(soon / 4),
                1 => Trouble::NoGrowthAfter(soon / 4),
                2 => Trouble::SyncFailsAfter(soon / 16),
                _ => Trouble::OffAfter(soon),
            },
        };
        self.coming = match trouble {
            Trouble::None => Coming::Nothing,
            Trouble::OffAfter(_) => Coming::Cut(Box::new(self.said())),
            _ => Coming::Refusal,
        };
        self.storage.meets(trouble);
        tell(|| format!("  meets {trouble:?}"));
    }

    fn write(&mut self, chance: &mut Chance) {
        let (kind, body) = written(chance);
        self.does(chance, |core, chance| append(core, (kind, 1), &body, chance));
    }

    /// As the core does it with a photo that was looked at: the file first, and then the record of it.
    fn photograph(&mut self, chance: &mut Chance) {
        let length = 1 + chance.below(2_000);
        let bytes: Vec<u8> = (0..length).map(|_| chance.bits() as u8).collect();
        self.taken.insert(store::photo_hash(&bytes));
        self.does(chance, |core, chance| {
            let photo = core.ledger().keep_photo(&bytes, "image/jpeg")?;
            let body = observed(photo, bytes.len() as u64);
            append(core, (OBSERVATION, OBSERVATION_VERSION), &body, chance)
        });
    }

    fn free(&mut self, chance: &mut Chance) {
        self.does(chance, |core, _| core.photos_free());
    }

    fn bundle(&mut self) -> Vec<u8> {
        let made = self.core().bundle_make().unwrap();
        let bytes = std::fs::read(&made.path).unwrap();
        std::fs::remove_file(&made.path).unwrap();
        bytes
    }

    fn take_bundle(&mut self, bundle: &[u8], chance: &mut Chance) {
        self.does(chance, |core, _| {
            let report = core.bundle_take(&upload(core, bundle))?;
            let bad = ["bundle.cut_short", "bundle.bad_entries", "bundle.no_room"];
            let said = report.messages.iter().find(|message| bad.contains(&message.code.as_str()));
            assert!(said.is_none(), "a whole bundle of good entries: {said:?}");
            Ok::<_, field::Error>(())
        });
    }

    fn confirmed(&mut self, confirmed: &Confirmed, chance: &mut Chance) {
        let invitation = Invitation {
            address: "https://hub.marrowby.example:8443".into(),
            organisation: confirmed.organisation,
            code: chance.bytes(),
        };
        self.does(chance, |core, _| {
            let invited = core.enrol_begin(&invitation.text())?;
            core.enrol_asked(&invited, &Met { hub: confirmed.hub, pins: vec![[9; 32]] })?;
            core.enrol_confirmed(&confirmed.keys, &confirmed.entries)
        });
    }

    fn has_hub(&self) -> bool {
        self.core().way_to_hub().unwrap().is_some()
    }

    fn session(&self) -> (&Store, SecretKey) {
        (self.store(), self.core().exchange_key().unwrap())
    }

    fn exchanged(&mut self, error: Option<String>, chance: &mut Chance) {
        self.core().exchanged();
        self.ended(error.as_deref(), chance);
    }

    fn photos_to_bring(&self) -> Vec<PhotoHash> {
        self.core().photos_to_send().unwrap().into_iter().map(|(photo, _)| PhotoHash(photo)).collect()
    }

    fn starts_again(&mut self, chance: &mut Chance) {
        match chance.below(3) {
            0 => self.lose_power(chance),
            closed_well => {
                if closed_well == 1 {
                    self.core().suspend().unwrap();
                }
                self.core = None;
                self.core = Some(self.opened().unwrap());
            }
        }
        self.changed.set(true);
    }

    fn back_up(&mut self, chance: &mut Chance) -> Backup {
        if chance.percent(50) {
            self.core().suspend().unwrap();
        }
        Backup { files: self.storage.files(), taken: self.taken.clone() }
    }

    fn restore(&mut self, backup: &Backup, chance: &mut Chance) {
        let taken = backup.taken.clone();
        *self = Handset::starting(Device::new(chance), backup.files.clone(), taken);
    }

    /// The data lies on a file system of the machine meanwhile: putting a damaged file aside is done with its files.
    fn is_damaged(&mut self, chance: &mut Chance) -> bool {
        let before = self.log();
        if chance.percent(50) {
            self.core().suspend().unwrap();
        }
        self.is_killed();
        let folder = tempfile::tempdir().unwrap();
        for (name, mut bytes) in self.storage.files() {
            if name == FILE {
                hurt(&mut bytes, chance);
            }
            let path = folder.path().join(name);
            std::fs::create_dir_all(path.parent().unwrap()).unwrap();
            std::fs::write(path, bytes).unwrap();
        }
        let opening = Opening::at(folder.path().join(FILE));
        let exports = self.exports.path().to_owned();
        let core = field::Phone::open(opening, exports, self.device.ports()).unwrap();
        let salvaged = core.ledger().salvaged().unwrap();
        tell(|| format!("  {salvaged:?}"));
        let writes_anew = core.exchange_key().unwrap().public().log() != before;
        drop(core);
        self.storage.turn_on(files_in(folder.path()));
        self.core = Some(self.opened().unwrap());
        self.changed.set(true);
        writes_anew
    }

    fn clone_of(&mut self, chance: &mut Chance) -> Handset<SYNCED> {
        Handset::starting(self.device.copied(chance), self.storage.files(), self.taken.clone())
    }

    fn changed(&self) -> bool {
        self.changed.replace(false)
    }

    fn epoch(&self) -> Option<Epoch> {
        self.store().marks().unwrap().epoch
    }

    fn received(&self) -> Vec<(EntryId, Grade)> {
        let mut places = BTreeMap::new();
        let mut kept = self.store().newest(None, u32::MAX).unwrap();
        kept.sort_by_key(|kept| kept.arrival);
        // Of two at a place the screens show the first one that came.
        for kept in kept {
            places.entry(kept.entry.place).or_insert_with(|| id(&kept.entry));
        }
        let stands = |(place, id): (Place, EntryId)| {
            let stands = self.store().stands(place).unwrap().unwrap();
            Some((id, grade(stands)?))
        };
        places.into_iter().filter_map(stands).collect()
    }

    fn photos_received(&self) -> Vec<(PhotoHash, Grade)> {
        let waiting: BTreeSet<PhotoHash> = self.photos_to_bring().into_iter().collect();
        let here = self.cited().into_iter().filter(|photo| self.is_here(*photo));
        here.filter(|photo| !waiting.contains(photo)).map(|photo| (photo, Grade::Stored)).collect()
    }

    fn freed(&self) -> BTreeSet<PhotoHash> {
        let state = |photo: &PhotoHash| self.store().photo_state(*photo).unwrap();
        self.taken.iter().copied().filter(|photo| state(photo) == Some(PhotoState::Freed)).collect()
    }

    fn holds(&self) -> (usize, Marks) {
        let places = |run: &HeldRun| run.to.get() - run.from.get() + 1;
        let held: u64 = self.store().have().unwrap().0.values().flatten().map(places).sum();
        let parked = self.store().parked().unwrap().len();
        (usize::try_from(held).unwrap() + parked, self.store().marks().unwrap())
    }

    fn found(&self) -> Found {
        let store = self.store();
        let now = store.identity().unwrap().unwrap().log;
        let row = |listed: store::Listed| {
            let body = store.instrument(&listed.key).unwrap().unwrap();
            let instrument: Instrument = serde_json::from_str(&body).unwrap();
            (
                (instrument.site.name.clone(), instrument.tag.clone()),
                RegisterRow(instrument).encode().unwrap(),
            )
        };
        Found {
            log: self.log(),
            entries: entries(store),
            own: store.own_logs().unwrap().into_iter().map(store::LogId::of_record).collect(),
            trust: store.trust().unwrap(),
            lacks: store.lacks().unwrap(),
            knows_of_copy: store.forked().unwrap().contains(&now) || store.is_copied().unwrap(),
            register: store.listed().unwrap().into_iter().map(row).collect(),
            photos: self.taken.iter().copied().filter(|photo| self.is_here(*photo)).collect(),
        }
    }

    /// One that every version reads, with its area in the name of its site.
    fn row(tag: &str, area: &str, chance: &mut Chance) -> Vec<u8> {
        static EXAMPLE: LazyLock<Instrument> = LazyLock::new(|| {
            let example = include_bytes!("../../../../suite/wire/v2/visit.headmark");
            let export = record::read_export(example).unwrap();
            Visit::of_entry(&export.entries[0]).unwrap().finished.instrument
        });
        let mut row = EXAMPLE.clone();
        row.tag = tag.into();
        row.serial = format!("{}", chance.bits());
        row.site.name = area.into();
        RegisterRow(row).encode().unwrap()
    }
}
