//! The COSE_Sign1 around the payload (RFC 9052, section 4.2), in the one form that this format permits.

use minicbor::Encoder;
use minicbor::data::Tag;
use minicbor::decode::{Decoder, Error as Unread};

use crate::{Error, LogId, Part, Signature, cbor};

/// Bound into an entry's signature and sent nowhere, so that a signature made for something else never holds here.
pub(crate) const EXTERNAL_AAD: &[u8] = b"headmark/entry/1";

/// What the payload is; the type is not registered.
const CONTENT_TYPE: &str = "application/vnd.headmark.entry+cbor";

const SIGN1_TAG: u64 = 18;

/// The protected header `{1: -8 (EdDSA), 3: content type, 4: log id}`.
pub(crate) fn protected(log: &LogId) -> Result<Vec<u8>, Error> {
    let mut out = Encoder::new(Vec::with_capacity(80));
    out.map(3)?.u8(1)?.i8(-8)?.u8(3)?.str(CONTENT_TYPE)?.u8(4)?.bytes(&log.0)?;
    Ok(out.into_writer())
}

/// The protected header of what is signed and is no entry: `{1: -8 (EdDSA), 4: log id}`.
pub(crate) fn protected_bare(log: &LogId) -> Result<Vec<u8>, Error> {
    let mut out = Encoder::new(Vec::with_capacity(40));
    out.map(2)?.u8(1)?.i8(-8)?.u8(4)?.bytes(&log.0)?;
    Ok(out.into_writer())
}

/// The log that such a header names. Whether it has the one form is for the caller to compare.
pub(crate) fn log_of_bare(protected: &[u8]) -> Option<LogId> {
    let log = protected.get(protected.len().checked_sub(32)?..)?;
    log.try_into().ok().map(LogId)
}

/// The bytes that are signed: RFC 9052's Sig_structure.
pub(crate) fn to_be_signed(protected: &[u8], aad: &[u8], payload: &[u8]) -> Result<Vec<u8>, Error> {
    let mut out = Encoder::new(Vec::with_capacity(payload.len() + 128));
    out.array(4)?.str("Signature1")?.bytes(protected)?.bytes(aad)?.bytes(payload)?;
    Ok(out.into_writer())
}

/// Writes a COSE_Sign1.
pub(crate) fn write(protected: &[u8], payload: &[u8], signature: &Signature) -> Result<Vec<u8>, Error> {
    let mut out = Encoder::new(Vec::with_capacity(payload.len() + 176));
    out.tag(Tag::new(SIGN1_TAG))?.array(4)?;
    out.bytes(protected)?.map(0)?.bytes(payload)?.bytes(&signature.0)?;
    Ok(out.into_writer())
}

/// A COSE_Sign1 taken apart.
pub(crate) struct Envelope<'b> {
    pub(crate) protected: &'b [u8],
    pub(crate) payload: &'b [u8],
    pub(crate) signature: Signature,
}

/// Takes a COSE_Sign1 apart. The protected header is compared by whoever knows the log.
pub(crate) fn read(part: Part, sign1: &[u8]) -> Result<Envelope<'_>, Error> {
    cbor::check(sign1).map_err(|fault| Error::Cbor { part, at: fault.at, flaw: fault.flaw })?;
    let malformed = |what| Error::Malformed { part, what };
    parts(sign1)
        .map_err(|_| malformed("a COSE_Sign1 has four parts, each of its own type"))?
        .ok_or(malformed("it is not a tagged COSE_Sign1 with an Ed25519 signature and nothing unprotected"))
}

fn parts(sign1: &[u8]) -> Result<Option<Envelope<'_>>, Unread> {
    let mut from = Decoder::new(sign1);
    if from.tag()?.as_u64() != SIGN1_TAG || from.array()? != Some(4) {
        return Ok(None);
    }
    let protected = from.bytes()?;
    if from.map()? != Some(0) {
        return Ok(None);
    }
    let payload = from.bytes()?;
    let signature = from.bytes()?.try_into().ok().map(Signature);
    Ok(signature.map(|signature| Envelope { protected, payload, signature }))
}
