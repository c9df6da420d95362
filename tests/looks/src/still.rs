//! A phone on which nothing happens by chance: the same acts give the same screens on every machine.

use std::sync::atomic::{AtomicU8, Ordering};

use anyhow::Result;
use field::host::KeyFolder;
use field::{Entropy, NoEntropy, Ports};
use kit::{Core, Hands, Phone};

use crate::register::register;

/// Who works with it.
const TECHNICIAN: &str = "Asha Verma";

/// A phone with its clock in the hand.
pub(crate) struct Still {
    /// Its clock.
    pub(crate) clock: Hands,
    /// Its core.
    pub(crate) core: Core,
    _phone: Phone,
}

impl Still {
    /// A phone fresh from the shop.
    pub(crate) fn fresh() -> Result<Still> {
        Still::on(Phone::new()?)
    }

    /// The phone with these folders.
    pub(crate) fn on(phone: Phone) -> Result<Still> {
        let clock = Hands::default();
        let keys = KeyFolder::at(phone.data().join("keys"));
        let ports = Ports {
            clock: Box::new(clock.clone()),
            keys: Box::new(keys),
            entropy: Box::new(Counts::default()),
        };
        let core = Core::open_with(&phone, ports)?;
        Ok(Still { clock, core, _phone: phone })
    }

    /// A phone with somebody who works with it and the register.
    pub(crate) fn ready() -> Result<Still> {
        let still = Still::fresh()?;
        still.core.prepare_with(TECHNICIAN, register()?.to_string().as_bytes())?;
        Ok(still)
    }
}

/// Counts instead of drawing. What is signed on this phone is worth nothing, and is only looked at.
#[derive(Debug, Default)]
struct Counts(AtomicU8);

impl Entropy for Counts {
    fn fill(&self, bytes: &mut [u8]) -> Result<(), NoEntropy> {
        bytes.fill(self.0.fetch_add(1, Ordering::SeqCst));
        Ok(())
    }
}
