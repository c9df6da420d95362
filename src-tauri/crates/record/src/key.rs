//! Keys and signatures: Ed25519 (RFC 8032), written as COSE_Key (RFC 9052, section 7; RFC 9053, section 7.2).

use ed25519_dalek::{Signer as _, SigningKey, VerifyingKey};
use zeroize::Zeroize;

use crate::{Error, LogId};

/// All of a COSE_Key but the key itself: `{1: 1 (OKP), 3: -8 (EdDSA), -1: 6 (Ed25519), -2: 32 bytes}`. The
/// format permits this one form, since a log is named by the hash of these bytes.
const COSE_KEY_HEAD: [u8; 10] = [0xa4, 0x01, 0x01, 0x03, 0x27, 0x20, 0x06, 0x21, 0x58, 0x20];

const COSE_KEY_LENGTH: usize = COSE_KEY_HEAD.len() + 32;

/// A public key that signs a log.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PublicKey {
    cose: [u8; COSE_KEY_LENGTH],
    point: VerifyingKey,
}

impl PublicKey {
    /// Reads a COSE_Key.
    ///
    /// # Errors
    ///
    /// [`Error::NotAKey`] for any other form, and for the weak keys under which one signature could hold for
    /// many messages.
    pub fn from_cose(bytes: &[u8]) -> Result<PublicKey, Error> {
        let point = bytes
            .strip_prefix(&COSE_KEY_HEAD)
            .and_then(|point| <[u8; 32]>::try_from(point).ok())
            .ok_or(Error::NotAKey("it is not a COSE_Key for Ed25519 in the one permitted form"))?;
        let point =
            VerifyingKey::from_bytes(&point).map_err(|_| Error::NotAKey("it is no point of the curve"))?;
        if point.is_weak() {
            return Err(Error::NotAKey("it is a weak key"));
        }
        Ok(PublicKey::of(point))
    }

    fn of(point: VerifyingKey) -> PublicKey {
        let mut cose = [0; COSE_KEY_LENGTH];
        let whole = COSE_KEY_HEAD.iter().chain(point.as_bytes());
        cose.iter_mut().zip(whole).for_each(|(to, from)| *to = *from);
        PublicKey { cose, point }
    }

    /// Returns the COSE_Key.
    #[must_use]
    pub fn cose(&self) -> &[u8] {
        &self.cose
    }

    /// Returns the name of the log that this key signs.
    #[must_use]
    pub fn log(&self) -> LogId {
        LogId::of(&self.cose)
    }

    /// Returns whether a signature holds, by the strict rule: one message, one key, one signature.
    #[must_use]
    pub fn holds(&self, message: &[u8], signature: &Signature) -> bool {
        let signature = ed25519_dalek::Signature::from_bytes(&signature.0);
        self.point.verify_strict(message, &signature).is_ok()
    }
}

/// A signature.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Signature(pub [u8; 64]);

/// Something that signs: a secret key in memory, a platform's key store, or a cheap stand-in where a test makes
/// very many entries.
pub trait Signer {
    /// Returns the public key, which names the log.
    fn public(&self) -> &PublicKey;

    /// Signs a message.
    ///
    /// # Errors
    ///
    /// [`Error::NotSigned`] when the key cannot be used now.
    fn sign(&self, message: &[u8]) -> Result<Signature, Error>;
}

/// A secret key in memory, wiped when it is dropped and never written or shown.
pub struct SecretKey {
    secret: SigningKey,
    public: PublicKey,
}

impl SecretKey {
    /// Takes a secret key (RFC 8032's 32 bytes) out of a buffer, which is wiped.
    #[must_use]
    pub fn take(bytes: &mut [u8; 32]) -> SecretKey {
        let secret = SigningKey::from_bytes(bytes);
        bytes.zeroize();
        let public = PublicKey::of(secret.verifying_key());
        SecretKey { secret, public }
    }
}

// By hand, so that no message can ever hold the secret.
impl std::fmt::Debug for SecretKey {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.debug_struct("SecretKey").field("log", &self.public.log()).finish_non_exhaustive()
    }
}

impl Signer for SecretKey {
    fn public(&self) -> &PublicKey {
        &self.public
    }

    fn sign(&self, message: &[u8]) -> Result<Signature, Error> {
        let signature = self.secret.try_sign(message).map_err(|error| Error::NotSigned(error.to_string()))?;
        Ok(Signature(signature.to_bytes()))
    }
}
