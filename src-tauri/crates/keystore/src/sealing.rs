//! What is asked of a platform's key store.

use field::KeysError;
use zeroize::Zeroizing;

/// The length of a nonce in bytes: the 96 bits that AES-GCM takes as they are (NIST SP 800-38D, section 5.2.1.1).
pub const NONCE: usize = 12;

/// Something enciphered with AES-256-GCM.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ciphered {
    /// The nonce, drawn by the key store: none is ever used twice with one key.
    pub nonce: [u8; NONCE],
    /// What was enciphered, with the tag of 16 bytes behind it.
    pub text: Vec<u8>,
}

/// A key store with one key of ours in it, which never leaves it.
pub trait KeyStore: Send + Sync {
    /// Enciphers a secret with the key, making it where there is none or where it is invalid for good. What it is bound
    /// to must be said again when it is opened.
    ///
    /// # Errors
    ///
    /// [`KeysError::Refused`] with what the key store said.
    fn seal(&self, secret: &[u8; 32], bound_to: &[u8]) -> Result<Ciphered, KeysError>;

    /// Deciphers what was enciphered with the key. Never makes one.
    ///
    /// # Errors
    ///
    /// [`KeysError::Lost`] where there is no key or it is invalid for good, where it is another key than the one that
    /// enciphered, or where a byte or what it is bound to is another; [`KeysError::Refused`] where it may open later.
    fn open(&self, ciphered: &Ciphered, bound_to: &[u8]) -> Result<Zeroizing<Vec<u8>>, KeysError>;
}
