//! Opening an entry and verifying it.

use std::fmt;

use minicbor::decode::{Decoder, Error as Unread};

use crate::{
    BodyHash, EntryId, Error, Header, MAX_BODY, MAX_HEADER, Part, PayloadHash, Proof, PublicKey, Signature,
    Strict, cbor, envelope,
};

/// An entry, taken apart but lying where it lay: every field is a view of the bytes that arrived.
///
/// That it could be opened says that it is well formed and that the body is the one the header names. Who signed
/// it, and whether, is said by [`verify`].
#[derive(Clone, PartialEq, Eq)]
pub struct Entry<'b> {
    /// All of it: what is kept and passed on.
    pub bytes: &'b [u8],
    /// Its identity.
    pub id: EntryId,
    /// What is signed.
    pub header: Header,
    /// The body.
    pub body: &'b [u8],
    protected: &'b [u8],
    payload: &'b [u8],
    signature: Signature,
}

// By hand: what a record says does not belong into messages and logs.
impl fmt::Debug for Entry<'_> {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        out.debug_struct("Entry").field("id", &self.id).field("header", &self.header).finish_non_exhaustive()
    }
}

/// Opens an entry: its form, its limits, and that header and body belong together.
///
/// # Errors
///
/// What is wrong with it, and in which part.
pub fn open(bytes: &[u8]) -> Result<Entry<'_>, Error> {
    let too_long = |part, length, limit| Error::TooLong { part, length, limit };
    if bytes.len() > MAX_HEADER + MAX_BODY + FRAME {
        return Err(too_long(Part::Entry, bytes.len(), MAX_HEADER + MAX_BODY + FRAME));
    }
    deterministic(Part::Entry, bytes)?;
    let (sign1, body) = pair(bytes).map_err(|_| NOT_A_PAIR)?;
    if sign1.len() > MAX_HEADER {
        return Err(too_long(Part::Header, sign1.len(), MAX_HEADER));
    }
    if body.len() > MAX_BODY {
        return Err(too_long(Part::Body, body.len(), MAX_BODY));
    }
    let envelope = envelope::read(Part::Header, sign1)?;
    let header = Header::decode(envelope.payload)?;
    if envelope.protected != envelope::protected(&header.log)? {
        let what = "the protected header does not name algorithm, content type and key as it must";
        return Err(Error::Malformed { part: Part::Header, what });
    }
    let id = EntryId { log: header.log, seq: header.seq, payload: PayloadHash::of(envelope.payload) };
    if header.body_length != body.len() as u64 || header.body != BodyHash::of(body) {
        return Err(Error::BodyChanged(id));
    }
    deterministic(Part::Body, body)?;
    let envelope::Envelope { protected, payload, signature } = envelope;
    Ok(Entry { bytes, id, header, body, protected, payload, signature })
}

/// Verifies that the key signed the entry.
///
/// # Errors
///
/// [`Error::OtherKey`] when the entry is of another log, [`Error::BadSignature`] when the signature does not hold.
pub fn verify(entry: &Entry<'_>, key: &PublicKey) -> Result<(), Error> {
    verify_with(entry, key, &Strict)
}

/// Verifies the same by a proof of the caller's.
///
/// # Errors
///
/// As [`verify`].
pub fn verify_with(entry: &Entry<'_>, key: &PublicKey, proof: &(impl Proof + ?Sized)) -> Result<(), Error> {
    if entry.header.log != key.log() {
        return Err(Error::OtherKey { entry: entry.id, key: key.log() });
    }
    let message = envelope::to_be_signed(entry.protected, envelope::EXTERNAL_AAD, entry.payload)?;
    if proof.holds(key, &message, &entry.signature) { Ok(()) } else { Err(Error::BadSignature(entry.id)) }
}

/// The most bytes around header and body: the array's head and two string heads.
const FRAME: usize = 1 + 5 + 3;

const NOT_A_PAIR: Error = Error::Malformed { part: Part::Entry, what: "a record is two byte strings" };

fn pair(bytes: &[u8]) -> Result<(&[u8], &[u8]), Unread> {
    let mut from = Decoder::new(bytes);
    if from.array()? != Some(2) {
        return Err(Unread::message("not a pair"));
    }
    Ok((from.bytes()?, from.bytes()?))
}

pub(crate) fn deterministic(part: Part, bytes: &[u8]) -> Result<(), Error> {
    cbor::check(bytes).map_err(|fault| Error::Cbor { part, at: fault.at, flaw: fault.flaw })
}
