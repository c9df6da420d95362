//! What a phone is apart from its data: its key store, its clock, its chance.

use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use domain::visit::Moment;
use field::{Clock, Entropy, Kept, Keys, KeysError, NoEntropy, Now, Ports};

use crate::chance::Chance;
use crate::plain::some_time;

/// A device. What its key store sealed opens on no other, but on one that was copied whole.
#[derive(Clone)]
pub struct Device {
    number: [u8; 16],
    chance: Arc<Mutex<Chance>>,
}

impl Device {
    pub fn new(chance: &mut Chance) -> Device {
        Device { number: chance.bytes(), chance: Arc::new(Mutex::new(Chance::from(chance.bits()))) }
    }

    /// One with the same key store. What it draws from now on is its own.
    pub fn copied(&self, chance: &mut Chance) -> Device {
        Device { number: self.number, ..Device::new(chance) }
    }

    pub fn ports(&self) -> Ports {
        Ports { clock: Box::new(self.clone()), keys: Box::new(self.clone()), entropy: Box::new(self.clone()) }
    }

    fn draw<T>(&self, from: impl FnOnce(&mut Chance) -> T) -> T {
        from(&mut self.chance.lock().unwrap_or_else(PoisonError::into_inner))
    }
}

/// It goes anywhere.
impl Clock for Device {
    fn now(&self) -> Now {
        Now { wall: Moment(self.draw(some_time)), offset_minutes: 0, since_boot: None }
    }

    fn ticks(&self) -> Duration {
        Duration::from_secs(60)
    }
}

impl Keys for Device {
    fn seal(&self, secret: &[u8; 32]) -> Result<Vec<u8>, KeysError> {
        Ok([&self.number[..], secret].concat())
    }

    fn open(&self, sealed: &[u8]) -> Result<[u8; 32], KeysError> {
        let secret = sealed.strip_prefix(&self.number).ok_or(KeysError::Lost)?;
        secret.try_into().map_err(|_| KeysError::Lost)
    }

    fn kept(&self, _: &[u8]) -> Kept {
        Kept::Sealed
    }
}

impl Entropy for Device {
    fn fill(&self, bytes: &mut [u8]) -> Result<(), NoEntropy> {
        self.draw(|chance| bytes.iter_mut().for_each(|byte| *byte = chance.bits() as u8));
        Ok(())
    }
}
