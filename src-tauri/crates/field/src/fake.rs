//! The ports as tests move them.

use std::path::Path;
use std::sync::{Arc, Mutex};
use std::time::Duration;

use domain::visit::Moment;
use store::{Opening, Store};

use crate::{Clock, Entropy, Kept, Keys, KeysError, NoEntropy, Now, Ports, SinceBoot};

/// 2026-11-25T10:42:07Z, by `date -u -d 2026-11-25T10:42:07Z +%s`.
pub(crate) const START: i64 = 1_795_603_327_000;

/// A clock that stands, a key store in memory, and chance that counts.
#[derive(Clone, Default)]
pub(crate) struct Fakes(Arc<Mutex<Inner>>);

#[derive(Default)]
struct Inner {
    drawn: u8,
    locked: bool,
    sealed: Vec<[u8; 32]>,
}

impl Fakes {
    pub(crate) fn ports(&self) -> Ports {
        Ports { clock: Box::new(self.clone()), keys: Box::new(self.clone()), entropy: Box::new(self.clone()) }
    }

    pub(crate) fn lock_keys(&self, locked: bool) {
        self.0.lock().unwrap().locked = locked;
    }
}

impl Clock for Fakes {
    fn now(&self) -> Now {
        let since_boot = Some(SinceBoot { elapsed: self.ticks(), mark: [9; 16] });
        Now { wall: Moment(START), offset_minutes: 0, since_boot }
    }

    fn ticks(&self) -> Duration {
        Duration::from_secs(60)
    }
}

impl Keys for Fakes {
    fn seal(&self, secret: &[u8; 32]) -> Result<Vec<u8>, KeysError> {
        let mut inner = self.0.lock().unwrap();
        inner.sealed.push(*secret);
        // Names another key store's number too, so that a key of one phone is not one of another.
        Ok(format!("{:p}/{}", Arc::as_ptr(&self.0), inner.sealed.len()).into_bytes())
    }

    fn open(&self, sealed: &[u8]) -> Result<[u8; 32], KeysError> {
        let inner = self.0.lock().unwrap();
        if inner.locked {
            return Err(KeysError::Refused { what: "locked".into() });
        }
        let mark = format!("{:p}/", Arc::as_ptr(&self.0));
        let number = std::str::from_utf8(sealed).ok().and_then(|text| text.strip_prefix(&mark));
        let number: usize = number.and_then(|text| text.parse().ok()).ok_or(KeysError::Lost)?;
        inner.sealed.get(number - 1).copied().ok_or(KeysError::Lost)
    }

    fn kept(&self, _: &[u8]) -> Kept {
        Kept::Sealed
    }
}

impl Entropy for Fakes {
    fn fill(&self, bytes: &mut [u8]) -> Result<(), NoEntropy> {
        let mut inner = self.0.lock().unwrap();
        inner.drawn += 1;
        let (drawn, place) = (inner.drawn, Arc::as_ptr(&self.0) as usize);
        bytes.fill(drawn);
        for (byte, own) in bytes.iter_mut().zip(place.to_be_bytes()) {
            *byte ^= own;
        }
        Ok(())
    }
}

/// Opens a store of its own in a folder.
pub(crate) fn store_in(folder: &Path) -> Store {
    Opening::at(folder.join("headmark.db")).open().unwrap()
}
