//! Where a phone stands, as it says in a bundle: what a push would ask, signed, and without a session.
//!
//! The hub answers a bundle with one to be carried back. From this it knows for whom, and from where its news and its
//! register go on. It is a question and changes nothing, so that one which comes twice or late does no harm.

use bodies::Epoch;
use minicbor::{Decode, Encode};
use record::{LogId, Proof, PublicKey, Signer};

use crate::Error;
use crate::message::{self, About, Cursor};

/// Bound into the signature, so that it never holds for anything else.
const AAD: &[u8] = b"headmark/standpoint/1";

/// Where a phone stands.
#[derive(Debug, Clone, Default, PartialEq, Eq, Encode, Decode)]
#[cbor(map)]
pub struct Standpoint {
    /// The hub's epoch as the phone knows it. The numbers below mean nothing in another one.
    #[cbor(n(1), with = "crate::wire::some_epoch", has_nil)]
    pub epoch: Option<Epoch>,
    /// The hub's number of the last news that the phone took.
    #[n(2)]
    pub news: u64,
    /// Where it stands in the register feed.
    #[n(3)]
    pub areas: Vec<Cursor>,
    /// The logs whose receipts it wants to know.
    #[n(4)]
    pub about: Vec<About>,
}

impl Standpoint {
    /// Signs it with the key of the phone's present log.
    ///
    /// # Errors
    ///
    /// [`Error::Record`] when the key cannot be used now.
    pub fn sign(&self, signer: &impl Signer) -> Result<Vec<u8>, Error> {
        Ok(record::sign_bytes(AAD, &message::write(self)?, signer)?)
    }

    /// Returns whose log's key is said to have signed one.
    ///
    /// # Errors
    ///
    /// [`Error::Record`] for what is no signed standpoint.
    pub fn signer_of(bytes: &[u8]) -> Result<LogId, Error> {
        Ok(record::open_signed(AAD, bytes)?.log)
    }

    /// Opens a signed standpoint and verifies it.
    ///
    /// # Errors
    ///
    /// [`Error::Record`] where the signature does not hold, [`Error::Malformed`] for what is no standpoint.
    pub fn open(bytes: &[u8], key: &PublicKey, proof: &(impl Proof + ?Sized)) -> Result<Standpoint, Error> {
        let signed = record::open_signed(AAD, bytes)?;
        signed.verify_with(key, proof)?;
        message::read(signed.payload)
    }
}
