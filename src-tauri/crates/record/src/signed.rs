//! Bytes that a log's key signs outside its chain: they have no place, name no forerunner and are not kept for ever.
//!
//! The form is the entry's COSE_Sign1 with two differences. The protected header names no content type, and the
//! external AAD says what the bytes are for. So a signature over one thing never holds for another, and none of
//! these can be taken for an entry.

use crate::entry::deterministic;
use crate::envelope::{self, Envelope};
use crate::{Error, LogId, MAX_SIGNED, Part, Proof, PublicKey, Signature, Signer, Strict};

/// Signed bytes, taken apart but lying where they lay.
///
/// That they could be opened says that they are well formed. Who signed them, and whether, is said by
/// [`Signed::verify`].
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Signed<'b> {
    /// The log of the key that is said to have signed.
    pub log: LogId,
    /// What is signed.
    pub payload: &'b [u8],
    aad: &'b [u8],
    protected: &'b [u8],
    signature: Signature,
}

/// Signs bytes for a use that the external AAD names.
///
/// ```
/// use record::{SecretKey, Signer, open_signed, sign_bytes};
///
/// let key = SecretKey::take(&mut [7; 32]);
/// let bytes = sign_bytes(b"headmark/page/1", b"\x65hello", &key)?;
/// let signed = open_signed(b"headmark/page/1", &bytes)?;
/// signed.verify(key.public())?;
/// assert_eq!((signed.log, signed.payload), (key.public().log(), &b"\x65hello"[..]));
/// # Ok::<(), record::Error>(())
/// ```
///
/// # Errors
///
/// [`Error::TooLong`] and [`Error::Cbor`] for a payload that no reader would take, [`Error::Malformed`] for the AAD of
/// entries, [`Error::NotSigned`] from the signer.
pub fn sign_bytes(aad: &[u8], payload: &[u8], signer: &impl Signer) -> Result<Vec<u8>, Error> {
    check(aad, payload)?;
    let protected = envelope::protected_bare(&signer.public().log())?;
    let signature = signer.sign(&envelope::to_be_signed(&protected, aad, payload)?)?;
    envelope::write(&protected, payload, &signature)
}

/// Opens bytes that were signed for a use.
///
/// # Errors
///
/// What is wrong with them. Whether they were signed for this use, only verifying tells.
pub fn open_signed<'b>(aad: &'b [u8], bytes: &'b [u8]) -> Result<Signed<'b>, Error> {
    let most = MAX_SIGNED + FRAME;
    if bytes.len() > most {
        return Err(Error::TooLong { part: Part::Signed, length: bytes.len(), limit: most });
    }
    let Envelope { protected, payload, signature } = envelope::read(Part::Signed, bytes)?;
    check(aad, payload)?;
    let log = envelope::log_of_bare(protected).ok_or(OTHER_HEADER)?;
    // The one form: what names the same log in other bytes is refused like any other header.
    if envelope::protected_bare(&log)? != protected {
        return Err(OTHER_HEADER);
    }
    Ok(Signed { log, payload, aad, protected, signature })
}

impl Signed<'_> {
    /// Verifies that the key signed this, for the use it was opened for.
    ///
    /// # Errors
    ///
    /// As [`Signed::verify_with`].
    pub fn verify(&self, key: &PublicKey) -> Result<(), Error> {
        self.verify_with(key, &Strict)
    }

    /// Verifies the same by a proof of the caller's.
    ///
    /// # Errors
    ///
    /// [`Error::OtherSigner`] when another log's key is said to have signed, [`Error::SignatureOf`] when the signature
    /// does not hold.
    pub fn verify_with(&self, key: &PublicKey, proof: &(impl Proof + ?Sized)) -> Result<(), Error> {
        if self.log != key.log() {
            return Err(Error::OtherSigner { signed: self.log, key: key.log() });
        }
        let message = envelope::to_be_signed(self.protected, self.aad, self.payload)?;
        if proof.holds(key, &message, &self.signature) { Ok(()) } else { Err(Error::SignatureOf(self.log)) }
    }
}

/// The most bytes around the payload: tag and array, the protected header of 38 bytes with its head, the empty map,
/// the payload's head, the signature with its head.
const FRAME: usize = 2 + (2 + 38) + 1 + 5 + (2 + 64);

const OTHER_HEADER: Error = Error::Malformed {
    part: Part::Signed,
    what: "the protected header does not name algorithm and key as it must",
};

fn check(aad: &[u8], payload: &[u8]) -> Result<(), Error> {
    if aad == envelope::EXTERNAL_AAD {
        return Err(Error::Malformed { part: Part::Signed, what: "a record is sealed and opened as one" });
    }
    if payload.len() > MAX_SIGNED {
        return Err(Error::TooLong { part: Part::Signed, length: payload.len(), limit: MAX_SIGNED });
    }
    deterministic(Part::Signed, payload)
}
