//! The phone: the store, the ports, and what is held only while the app runs.

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use store::{Opening, Store};
use tagcode::Gray;

use crate::decided::Reviewed;
use crate::offering::Offers;
use crate::pending::Pending;
use crate::search::Index;
use crate::uploads::Uploads;
use crate::{Clock, Entropy, Error, Keys, Now, identity, salvaged};

/// What the phone needs from the outside.
pub struct Ports {
    /// The time.
    pub clock: Box<dyn Clock>,
    /// The key store.
    pub keys: Box<dyn Keys>,
    /// Chance.
    pub entropy: Box<dyn Entropy>,
}

/// One technician's phone. Its methods block; all of them may be called from any thread.
pub struct Phone {
    store: Store,
    exports: PathBuf,
    ports: Ports,
    uploads: Mutex<Uploads>,
    index: Mutex<Option<Arc<Index>>>,
    pending: Mutex<Option<Arc<Pending>>>,
    reviewed: Mutex<Option<Arc<Reviewed>>>,
    offers: Mutex<Offers>,
    scanned: Mutex<String>,
    photo: Mutex<Option<Gray>>,
    held: Mutex<u32>,
    changing: Mutex<()>,
}

/// Where the name of a data file is kept that was put aside as damaged.
pub(crate) const PUT_ASIDE: &str = "damaged.kept_at";

impl Phone {
    /// Opens the phone's data and makes sure that there is a key to sign with.
    ///
    /// A damaged file is put aside by the store and a new one is begun, into which goes all of the old one that
    /// proves itself; the first screen then says so for as long as the old file is there.
    ///
    /// # Errors
    ///
    /// What the store says: written by a newer version, open elsewhere, full.
    pub fn open(opening: Opening, exports: PathBuf, ports: Ports) -> Result<Phone, Error> {
        let store = match opening.clone().open() {
            Err(store::Error::Damaged { kept_at, what }) => {
                tracing::error!(what, "the data file was damaged and put aside");
                let store = opening.open()?;
                store.set(&[(PUT_ASIDE, &kept_at.to_string_lossy())])?;
                store
            }
            other => other?,
        };
        salvaged::take_over(&store);
        salvaged::tidy(&store);
        // A key store may be locked just now. Signing asks it again and says so; everything else works.
        match identity::signer(&store, &ports) {
            Err(Error::Key(error)) => tracing::warn!(%error, "no signing key yet"),
            other => drop(other?),
        }
        Ok(Phone {
            store,
            exports,
            ports,
            uploads: Mutex::default(),
            index: Mutex::default(),
            pending: Mutex::default(),
            reviewed: Mutex::default(),
            offers: Mutex::default(),
            scanned: Mutex::default(),
            photo: Mutex::default(),
            held: Mutex::default(),
            changing: Mutex::default(),
        })
    }

    /// Closes the data file for a suspend; the next call of any kind opens it again by itself.
    ///
    /// # Errors
    ///
    /// What the store says; the file is closed all the same and nothing is lost.
    pub fn suspend(&self) -> Result<(), Error> {
        // A change under way finishes first: half of it must not meet a closed file.
        let _changing = self.changing();
        self.keep_photo(None);
        Ok(self.store.suspend()?)
    }

    /// Begins to take in a file of this many bytes, in place of any other, and returns the upload's id.
    ///
    /// # Errors
    ///
    /// [`Error::FileTooLarge`].
    pub fn upload_begin(&self, size: u32) -> Result<String, Error> {
        self.keep_photo(None);
        self.uploads().begin(size)
    }

    /// Takes in a piece of a file.
    ///
    /// # Errors
    ///
    /// [`Error::NoUpload`], [`Error::BadPiece`], [`Error::PieceOutOfPlace`].
    pub fn upload_piece(&self, upload: &str, at: u32, base64: &str) -> Result<(), Error> {
        self.uploads().piece(upload, at, base64)
    }

    /// Drops an upload that is not wanted any more.
    pub fn upload_drop(&self, upload: &str) {
        self.uploads().drop_one(upload);
    }

    pub(crate) fn take_upload(&self, upload: &str) -> Result<Vec<u8>, Error> {
        self.uploads().take(upload)
    }

    pub(crate) fn store(&self) -> &Store {
        &self.store
    }

    pub(crate) fn ports(&self) -> &Ports {
        &self.ports
    }

    pub(crate) fn exports(&self) -> &Path {
        &self.exports
    }

    pub(crate) fn now(&self) -> Now {
        self.ports.clock.now()
    }

    /// Returns the register folded for searching, folding it if that was not done since the last load.
    pub(crate) fn index(&self) -> Result<Arc<Index>, Error> {
        let mut held = lock(&self.index);
        if let Some(index) = held.as_ref() {
            return Ok(Arc::clone(index));
        }
        let pending = self.pending()?;
        let mut lines = self.store.listed()?;
        for line in &mut lines {
            if let Some(unit) = pending.unit(&line.key).filter(|unit| unit.before == line.serial) {
                line.serial.clone_from(&unit.serial);
            }
        }
        let index = Arc::new(Index::of(lines));
        *held = Some(Arc::clone(&index));
        Ok(index)
    }

    pub(crate) fn forget_index(&self) {
        *lock(&self.index) = None;
        self.forget_offered();
    }

    /// Returns what was proposed to the register, reading it if that was not done since the last proposal.
    pub(crate) fn pending(&self) -> Result<Arc<Pending>, Error> {
        let mut held = lock(&self.pending);
        if let Some(pending) = held.as_ref() {
            return Ok(Arc::clone(pending));
        }
        let pending = Arc::new(self.read_pending()?);
        *held = Some(Arc::clone(&pending));
        Ok(pending)
    }

    /// Returns what was decided about what this phone signed, reading it if that was not done since something came.
    pub(crate) fn reviewed(&self) -> Result<Arc<Reviewed>, Error> {
        let mut held = lock(&self.reviewed);
        if let Some(reviewed) = held.as_ref() {
            return Ok(Arc::clone(reviewed));
        }
        let reviewed = Arc::new(self.read_reviewed()?);
        *held = Some(Arc::clone(&reviewed));
        Ok(reviewed)
    }

    /// A proposal or a decision came in: what was read of them, and the search that shows it, are old.
    pub(crate) fn forget_pending(&self) {
        *lock(&self.reviewed) = None;
        *lock(&self.pending) = None;
        self.forget_index();
    }

    /// Whoever holds it may ask for the index, but not the other way round.
    pub(crate) fn offers(&self) -> MutexGuard<'_, Offers> {
        lock(&self.offers)
    }

    /// Keeps the text of a code exactly as it was scanned, for the visit that may follow.
    pub(crate) fn remember_scanned(&self, code: &str) {
        code.clone_into(&mut lock(&self.scanned));
    }

    /// Keeps a photo for a longer look, in place of the one before, which is returned.
    pub(crate) fn keep_photo(&self, photo: Option<Gray>) -> Option<Gray> {
        std::mem::replace(&mut lock(&self.photo), photo)
    }

    /// Counts a frame that is held back, up to a number of them; then it begins anew and says no.
    pub(crate) fn hold_back(&self, most: u32) -> bool {
        let mut held = lock(&self.held);
        *held = if *held < most { *held + 1 } else { 0 };
        *held > 0
    }

    /// Begins to count anew.
    pub(crate) fn hold_back_none(&self) {
        *lock(&self.held) = 0;
    }

    pub(crate) fn scanned(&self) -> String {
        lock(&self.scanned).clone()
    }

    /// Reading a draft and saving it changed are one thing: two commands at once must not lose one's answer.
    pub(crate) fn changing(&self) -> MutexGuard<'_, ()> {
        lock(&self.changing)
    }

    fn uploads(&self) -> MutexGuard<'_, Uploads> {
        lock(&self.uploads)
    }
}

/// Takes a lock. Nothing held under one is left half changed by a panic.
fn lock<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}
