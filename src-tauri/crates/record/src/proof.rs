//! How a signature is checked.

use crate::{PublicKey, Signature};

/// Says whether a signature holds. In the field there is one answer, [`Strict`]; a simulation that makes very many
/// entries brings a cheap one together with its cheap signer.
pub trait Proof {
    /// Returns whether this is the key's signature over the message.
    fn holds(&self, key: &PublicKey, message: &[u8], signature: &Signature) -> bool;
}

/// Ed25519 by the strict rule: one message, one key, one signature.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Strict;

impl Proof for Strict {
    fn holds(&self, key: &PublicKey, message: &[u8], signature: &Signature) -> bool {
        key.holds(message, signature)
    }
}
