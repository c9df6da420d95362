//! Bytes sealed with a passphrase: Argon2id (RFC 9106) makes the key, ChaCha20-Poly1305 (RFC 8439) seals.
//!
//! The file says by which parameters it was sealed, so that a later version may ask more of new files and still open
//! old ones. Everything that it says in the clear is bound into the seal.

use argon2::{Algorithm, Argon2, Params, Version};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use chacha20poly1305::aead::{Aead, KeyInit, Payload};
use chacha20poly1305::{ChaCha20Poly1305, Key, Nonce};
use serde::{Deserialize, Serialize};
use zeroize::Zeroizing;

use super::Passphrase;
use crate::{Error, chance};

/// What stands under `format` in a file of this form.
const FORMAT: &str = "headmark-sealed-key/1";
/// The most memory that a file may ask for: 1 GiB. A file made to exhaust the machine is refused.
const MOST_MEMORY: u32 = 1024 * 1024;
/// The most passes that a file may ask for.
const MOST_PASSES: u32 = 16;

/// What one guess at the passphrase costs.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Cost {
    /// Memory, in KiB.
    pub memory: u32,
    /// Passes over it.
    pub passes: u32,
}

impl Cost {
    /// The second recommended choice of RFC 9106, section 4: 64 MiB and three passes.
    pub const USUAL: Cost = Cost { memory: 64 * 1024, passes: 3 };
}

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct File {
    format: String,
    /// What is in it, in words: shown to a person who finds the file.
    what: String,
    cost: Cost,
    salt: String,
    nonce: String,
    sealed: String,
}

/// Seals bytes; `what` says in the clear what is inside.
pub(super) fn seal(what: &str, secret: &[u8], passphrase: &Passphrase, cost: Cost) -> Result<Vec<u8>, Error> {
    let (salt, nonce) = (chance::bytes::<16>()?, chance::bytes::<12>()?);
    let key = key(passphrase, &salt, cost)?;
    let bound = bound(what, cost, &salt);
    let payload = Payload { msg: secret, aad: &bound };
    let cipher = ChaCha20Poly1305::new(Key::from_slice(key.as_slice()));
    let sealed = cipher
        .encrypt(Nonce::from_slice(&nonce), payload)
        .map_err(|_| other_form("it is too large to be sealed"))?;
    let file = File {
        format: FORMAT.into(),
        what: what.into(),
        cost,
        salt: STANDARD.encode(salt),
        nonce: STANDARD.encode(nonce),
        sealed: STANDARD.encode(sealed),
    };
    let mut text = serde_json::to_vec_pretty(&file).map_err(|error| other_form(&error.to_string()))?;
    text.push(b'\n');
    Ok(text)
}

/// Opens what was sealed.
pub(super) fn open(file: &[u8], passphrase: &Passphrase) -> Result<Zeroizing<Vec<u8>>, Error> {
    let file: File = serde_json::from_slice(file).map_err(|error| other_form(&error.to_string()))?;
    if file.format != FORMAT {
        return Err(other_form("it names another format"));
    }
    if file.cost.memory > MOST_MEMORY || file.cost.passes > MOST_PASSES {
        return Err(other_form("it asks for more memory or passes than any file of ours"));
    }
    let salt: [u8; 16] = field(&file.salt)?;
    let nonce: [u8; 12] = field(&file.nonce)?;
    let sealed = STANDARD.decode(&file.sealed).map_err(|error| other_form(&error.to_string()))?;
    let key = key(passphrase, &salt, file.cost)?;
    let bound = bound(&file.what, file.cost, &salt);
    let payload = Payload { msg: &sealed, aad: &bound };
    let cipher = ChaCha20Poly1305::new(Key::from_slice(key.as_slice()));
    let opened = cipher.decrypt(Nonce::from_slice(&nonce), payload).map_err(|_| Error::WrongPassphrase)?;
    Ok(Zeroizing::new(opened))
}

fn key(passphrase: &Passphrase, salt: &[u8], cost: Cost) -> Result<Zeroizing<[u8; 32]>, Error> {
    let params =
        Params::new(cost.memory, cost.passes, 1, Some(32)).map_err(|error| other_form(&error.to_string()))?;
    let mut key = Zeroizing::new([0; 32]);
    Argon2::new(Algorithm::Argon2id, Version::V0x13, params)
        .hash_password_into(passphrase.bytes(), salt, key.as_mut_slice())
        .map_err(|error| other_form(&error.to_string()))?;
    Ok(key)
}

/// All that stands in the clear, so that none of it can be changed.
fn bound(what: &str, cost: Cost, salt: &[u8]) -> Vec<u8> {
    let Cost { memory, passes } = cost;
    let mut bound = format!("{FORMAT}\n{what}\nargon2id 19 {memory} {passes} 1\n").into_bytes();
    bound.extend_from_slice(salt);
    bound
}

fn field<const N: usize>(text: &str) -> Result<[u8; N], Error> {
    let bytes = STANDARD.decode(text).map_err(|error| other_form(&error.to_string()))?;
    bytes.try_into().map_err(|_| other_form("salt or nonce has another length"))
}

fn other_form(why: &str) -> Error {
    Error::OtherForm { what: "The sealed key", why: why.into() }
}

#[cfg(test)]
mod tests {
    use super::*;

    const QUICK: Cost = Cost { memory: 64, passes: 1 };

    fn phrase(text: &str) -> Passphrase {
        Passphrase::typed(text.into())
    }

    #[test]
    fn what_was_sealed_opens_with_its_passphrase_only() {
        let file = seal("a key", b"secret", &phrase("sluice copper lantern"), QUICK).unwrap();
        assert!(!String::from_utf8(file.clone()).unwrap().contains("secret"));
        assert_eq!(open(&file, &phrase("sluice copper lantern")).unwrap().as_slice(), b"secret");
        assert!(matches!(open(&file, &phrase("sluice copper lanterns")), Err(Error::WrongPassphrase)));
    }

    #[test]
    fn nothing_in_the_file_can_be_changed() {
        let phrase = phrase("sluice copper lantern");
        let file = String::from_utf8(seal("a key", b"secret", &phrase, QUICK).unwrap()).unwrap();
        for (from, to) in
            [("a key", "b key"), ("\"passes\": 1", "\"passes\": 2"), ("\"memory\": 64", "\"memory\": 65")]
        {
            let changed = file.replace(from, to);
            assert_ne!(changed, file);
            assert!(matches!(open(changed.as_bytes(), &phrase), Err(Error::WrongPassphrase)), "{from}");
        }
    }

    #[test]
    fn a_file_that_would_exhaust_the_machine_is_refused() {
        let phrase = phrase("sluice copper lantern");
        let file = String::from_utf8(seal("a key", b"secret", &phrase, QUICK).unwrap()).unwrap();
        for (from, to) in
            [("\"memory\": 64", "\"memory\": 4000000000"), ("\"passes\": 1", "\"passes\": 4000000000")]
        {
            let asked = open(file.replace(from, to).as_bytes(), &phrase);
            assert!(matches!(asked, Err(Error::OtherForm { .. })), "{from}");
        }
    }
}
