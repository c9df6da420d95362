//! Who signs on this phone: a key pair made at the first start, and the log it writes.
//!
//! The secret key never lies in the database: the key store seals it. When what was sealed no longer opens
//! (a restored or copied phone), a new key and with it a new log begin. The old log stays readable, because
//! its public key is kept under its log's name.

use record::{LogId, PublicKey, SecretKey, Signer};
use store::{Identity, Store};

use crate::{Error, KeysError, Ports};

/// Returns the key that signs now, making one where none is or the old one was lost.
pub(crate) fn signer(store: &Store, ports: &Ports) -> Result<SecretKey, Error> {
    let Some(identity) = store.identity()? else {
        return make(store, ports);
    };
    match ports.keys.open(&identity.sealed_key) {
        Ok(mut secret) => {
            let key = SecretKey::take(&mut secret);
            if key.public().log().0 == identity.log.0 { Ok(key) } else { make(store, ports) }
        }
        Err(KeysError::Lost) => {
            tracing::warn!("the signing key was lost; a new log begins");
            make(store, ports)
        }
        Err(refused) => Err(refused.into()),
    }
}

/// Returns the public key of a log.
pub(crate) fn public_key(store: &Store, log: LogId) -> Result<PublicKey, Error> {
    store.public_key(store::LogId(log.0))?.ok_or(Error::UnknownSigner)
}

/// The key goes to the key store first, its public half second, the identity last: a cut in between leaves
/// a key that nobody uses, never an identity without its key.
fn make(store: &Store, ports: &Ports) -> Result<SecretKey, Error> {
    let mut secret = [0; 32];
    ports.entropy.fill(&mut secret)?;
    let sealed_key = ports.keys.seal(&secret)?;
    let key = SecretKey::take(&mut secret);
    let log = key.public().log();
    store.keep_keys(std::slice::from_ref(key.public()))?;
    store.add_identity(&Identity { log: store::LogId(log.0), sealed_key })?;
    tracing::info!(%log, "a signing key was made");
    Ok(key)
}

/// Writes bytes as small hexadecimal digits.
pub(crate) fn hex(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Reads what [`hex`] wrote, and nothing else.
pub(crate) fn from_hex(text: &str) -> Option<Vec<u8>> {
    let plain = text.bytes().all(|byte| matches!(byte, b'0'..=b'9' | b'a'..=b'f'));
    if !plain || !text.len().is_multiple_of(2) {
        return None;
    }
    (0..text.len()).step_by(2).map(|at| u8::from_str_radix(text.get(at..at + 2)?, 16).ok()).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::fake::{Fakes, store_in};

    #[test]
    fn the_key_stays_the_same_and_a_lost_one_begins_a_new_log() {
        let folder = tempfile::tempdir().unwrap();
        let store = store_in(folder.path());
        let ports = Fakes::default().ports();
        let first = signer(&store, &ports).unwrap();
        assert_eq!(signer(&store, &ports).unwrap().public(), first.public());

        let elsewhere = Fakes::default().ports();
        let second = signer(&store, &elsewhere).unwrap();
        assert_ne!(second.public().log(), first.public().log());
        for key in [first.public(), second.public()] {
            assert_eq!(&public_key(&store, key.log()).unwrap(), key);
        }
    }

    #[test]
    fn a_key_store_that_refuses_begins_no_new_log() {
        let folder = tempfile::tempdir().unwrap();
        let store = store_in(folder.path());
        let fakes = Fakes::default();
        let first = signer(&store, &fakes.ports()).unwrap();
        fakes.lock_keys(true);
        assert!(matches!(signer(&store, &fakes.ports()), Err(Error::Key(KeysError::Refused { .. }))));
        fakes.lock_keys(false);
        assert_eq!(signer(&store, &fakes.ports()).unwrap().public(), first.public());
    }

    #[test]
    fn hexadecimal_digits_go_both_ways() {
        assert_eq!(from_hex(&hex(&[0, 15, 255])), Some(vec![0, 15, 255]));
        assert_eq!(from_hex("0"), None);
        assert_eq!(from_hex("0G"), None);
        assert_eq!(from_hex("+1"), None);
    }
}
