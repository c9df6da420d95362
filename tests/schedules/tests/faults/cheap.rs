//! Signatures that cost next to nothing, for very many entries: the hash of key and message. They prove nothing against
//! an enemy; what an enemy does is tried with the real ones.

use record::{Error, Proof, PublicKey, SecretKey, Signature, Signer, Strict};
use sha2::{Digest, Sha256};

/// A key whose public half is a real one.
#[derive(Debug, Clone)]
pub struct Cheap(PublicKey);

impl Cheap {
    pub fn from(mut secret: [u8; 32]) -> Cheap {
        Cheap(SecretKey::take(&mut secret).public().clone())
    }
}

fn signature(key: &PublicKey, message: &[u8]) -> Signature {
    let half: [u8; 32] = Sha256::new().chain_update(key.cose()).chain_update(message).finalize().into();
    let mut whole = [0; 64];
    whole[..32].copy_from_slice(&half);
    Signature(whole)
}

impl Signer for Cheap {
    fn public(&self) -> &PublicKey {
        &self.0
    }

    fn sign(&self, message: &[u8]) -> Result<Signature, Error> {
        Ok(signature(&self.0, message))
    }
}

/// Holds for [`Cheap`]'s signatures.
#[derive(Debug, Clone, Copy)]
pub struct CheapProof;

impl Proof for CheapProof {
    fn holds(&self, key: &PublicKey, message: &[u8], given: &Signature) -> bool {
        signature(key, message) == *given
    }
}

/// A way of signing, with how it is checked.
pub trait Signing: Clone {
    type Key: Signer + Clone + Send + Sync;
    type Proof: Proof + Clone + Send + Sync + 'static;

    fn key(secret: [u8; 32]) -> Self::Key;
    fn proof() -> Self::Proof;
}

/// For very many schedules.
#[derive(Debug, Clone, Copy)]
pub struct Cheaply;

impl Signing for Cheaply {
    type Key = Cheap;
    type Proof = CheapProof;

    fn key(secret: [u8; 32]) -> Cheap {
        Cheap::from(secret)
    }

    fn proof() -> CheapProof {
        CheapProof
    }
}

/// As in the field.
#[derive(Debug, Clone, Copy)]
pub struct Really;

/// A secret key that several hold: a cloned phone has it too.
#[derive(Debug, Clone)]
pub struct Shared(std::sync::Arc<SecretKey>);

impl Signer for Shared {
    fn public(&self) -> &PublicKey {
        self.0.public()
    }

    fn sign(&self, message: &[u8]) -> Result<Signature, Error> {
        self.0.sign(message)
    }
}

impl Signing for Really {
    type Key = Shared;
    type Proof = Strict;

    fn key(mut secret: [u8; 32]) -> Shared {
        Shared(std::sync::Arc::new(SecretKey::take(&mut secret)))
    }

    fn proof() -> Strict {
        Strict
    }
}
