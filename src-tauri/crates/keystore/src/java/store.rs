//! The key store: into Java and out again.

use std::sync::{Arc, Mutex, PoisonError};

use field::KeysError;
use jni::JavaVM;
use zeroize::Zeroizing;

use super::android::{ALIAS, Entry, PROVIDER};
use super::called::Java;
use super::meaning::Failed;
use super::thrown;
use crate::files::refused;
use crate::{Ciphered, KeyStore};

/// Where the Java machine is had from.
pub trait Machine: Send + Sync {
    /// Returns the machine that runs this app.
    ///
    /// # Errors
    ///
    /// Why it cannot be had just now.
    fn vm(&self) -> Result<Arc<JavaVM>, String>;
}

/// How many local references a frame makes room for: a key that is asked for twice and then used takes some seventy.
const FRAME: i32 = 96;

/// One key in a key store that is reached through Java.
pub struct JavaKeyStore<M> {
    machine: M,
    provider: String,
    alias: String,
    /// Two that found no key must not both make one: the second would take the first one's place, and what that had
    /// enciphered would be lost.
    making: Mutex<()>,
}

impl<M: Machine> JavaKeyStore<M> {
    /// Uses Android's key store.
    #[must_use]
    pub fn of_android(machine: M) -> JavaKeyStore<M> {
        JavaKeyStore::named(machine, PROVIDER, ALIAS)
    }

    /// Uses the key of this alias in the key store of this provider.
    #[must_use]
    pub fn named(machine: M, provider: &str, alias: &str) -> JavaKeyStore<M> {
        JavaKeyStore {
            machine,
            provider: provider.to_owned(),
            alias: alias.to_owned(),
            making: Mutex::new(()),
        }
    }

    /// Does something in Java. Afterwards nothing is thrown, the references that were made are gone, and a thread that
    /// was not attached before is so no more.
    fn within<T>(
        &self,
        work: impl FnOnce(&mut Java<'_, '_>, Entry<'_>) -> Result<T, Failed>,
    ) -> Result<T, KeysError> {
        let vm = self.machine.vm().map_err(refused)?;
        let mut env = vm.attach_current_thread().map_err(refused)?;
        let entry = Entry { provider: &self.provider, alias: &self.alias };
        let done = env.with_local_frame(FRAME, |env| work(&mut Java::through(env), entry));
        // Where no frame could be had, that itself was thrown.
        thrown::clear(&env);
        done.map_err(|failed: Failed| failed.told())
    }
}

impl<M: Machine> KeyStore for JavaKeyStore<M> {
    fn seal(&self, secret: &[u8; 32], bound_to: &[u8]) -> Result<Ciphered, KeysError> {
        let _one = self.making.lock().unwrap_or_else(PoisonError::into_inner);
        self.within(|java, entry| {
            let sealed = entry.key(java).and_then(|key| entry.seal(java, &key, secret, bound_to));
            if !sealed.as_ref().is_err_and(Failed::is_lost) {
                return sealed;
            }
            // What an invalid key enciphered opens no more, so nothing goes with it.
            entry.remove(java)?;
            let key = entry.make(java)?;
            entry.seal(java, &key, secret, bound_to)
        })
    }

    fn open(&self, ciphered: &Ciphered, bound_to: &[u8]) -> Result<Zeroizing<Vec<u8>>, KeysError> {
        self.within(|java, entry| {
            let key = entry.key(java)?;
            entry.open(java, &key, ciphered, bound_to)
        })
    }
}
