//! A key store as tests move it. It enciphers nothing: it remembers what it was given.

use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard};

use field::KeysError;
use zeroize::Zeroizing;

use crate::{Ciphered, KeyStore, NONCE};

/// A key store in memory. Its clones are one.
#[derive(Debug, Clone, Default)]
pub(crate) struct StandIn(Arc<Mutex<Held>>);

#[derive(Debug, Default)]
struct Held {
    drawn: u32,
    refuses: bool,
    wrong: bool,
    sealed: BTreeMap<[u8; NONCE], Sealed>,
}

#[derive(Debug)]
struct Sealed {
    text: Vec<u8>,
    bound_to: Vec<u8>,
    secret: [u8; 32],
}

impl StandIn {
    pub(crate) fn refuse(&self, refuses: bool) {
        self.held().refuses = refuses;
    }

    /// Its key is gone.
    pub(crate) fn forget(&self) {
        self.held().sealed.clear();
    }

    /// From now on it opens nothing of what it seals.
    pub(crate) fn seal_wrongly(&self) {
        self.held().wrong = true;
    }

    fn held(&self) -> MutexGuard<'_, Held> {
        self.0.lock().unwrap()
    }
}

impl KeyStore for StandIn {
    fn seal(&self, secret: &[u8; 32], bound_to: &[u8]) -> Result<Ciphered, KeysError> {
        let mut held = self.held();
        if held.refuses {
            return Err(KeysError::Refused { what: "busy".into() });
        }
        held.drawn += 1;
        let drawn = held.drawn.to_be_bytes();
        let (nonce, text) = (std::array::from_fn(|at| drawn[at % 4]), drawn.repeat(12));
        if !held.wrong {
            let sealed = Sealed { text: text.clone(), bound_to: bound_to.to_owned(), secret: *secret };
            held.sealed.insert(nonce, sealed);
        }
        Ok(Ciphered { nonce, text })
    }

    fn open(&self, ciphered: &Ciphered, bound_to: &[u8]) -> Result<Zeroizing<Vec<u8>>, KeysError> {
        let held = self.held();
        if held.refuses {
            return Err(KeysError::Refused { what: "busy".into() });
        }
        let sealed = held.sealed.get(&ciphered.nonce).ok_or(KeysError::Lost)?;
        let same = sealed.text == ciphered.text && sealed.bound_to == bound_to;
        if same { Ok(Zeroizing::new(sealed.secret.to_vec())) } else { Err(KeysError::Lost) }
    }
}
