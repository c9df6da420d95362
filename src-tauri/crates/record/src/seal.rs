//! Making an entry.

use minicbor::Encoder;

use crate::entry::deterministic;
use crate::header::MAX_OFFSET;
use crate::{
    BodyHash, Boot, Claimed, EntryId, Error, FORMAT, Header, Kind, Link, MAX_BODY, MAX_HEADER, Part,
    PayloadHash, Signer, envelope,
};

/// What the maker of an entry says about it; the rest follows from the body and the key.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NewEntry {
    /// Where it stands.
    pub link: Link,
    /// What the body is.
    pub kind: Kind,
    /// The version of that kind of body.
    pub body_version: u32,
    /// When, by the phone's clock.
    pub claimed: Claimed,
    /// When, by the time since boot.
    pub boot: Option<Boot>,
}

/// An entry just made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Sealed {
    /// All of it: what is kept and passed on.
    pub bytes: Vec<u8>,
    /// Its identity.
    pub id: EntryId,
    /// What was signed.
    pub header: Header,
}

impl Sealed {
    /// Returns the link for the next entry.
    #[must_use]
    pub fn next(&self) -> Link {
        Link::After { seq: self.id.seq, payload: self.id.payload }
    }
}

/// Makes and signs an entry.
///
/// A key store may give a signature that does not hold; whoever keeps the entry opens and verifies it first.
///
/// # Errors
///
/// [`Error::TooLong`] and [`Error::Cbor`] for a body that no reader would take, [`Error::NotSigned`] from the signer.
pub fn seal(new: &NewEntry, body: &[u8], signer: &impl Signer) -> Result<Sealed, Error> {
    if body.len() > MAX_BODY {
        return Err(Error::TooLong { part: Part::Body, length: body.len(), limit: MAX_BODY });
    }
    deterministic(Part::Body, body)?;
    if !(-MAX_OFFSET..=MAX_OFFSET).contains(&new.claimed.offset_minutes) {
        return Err(Error::Malformed { part: Part::Payload, what: "the offset from UTC is above 18 h" });
    }
    let header = header(new, body, signer)?;
    let (protected, payload) = (envelope::protected(&header.log)?, header.encode()?);
    let signature = signer.sign(&envelope::to_be_signed(&protected, envelope::EXTERNAL_AAD, &payload)?)?;
    let sign1 = envelope::write(&protected, &payload, &signature)?;
    if sign1.len() > MAX_HEADER {
        return Err(Error::TooLong { part: Part::Header, length: sign1.len(), limit: MAX_HEADER });
    }
    let mut out = Encoder::new(Vec::with_capacity(sign1.len() + body.len() + 9));
    out.array(2)?.bytes(&sign1)?.bytes(body)?;
    let id = EntryId { log: header.log, seq: header.seq, payload: PayloadHash::of(&payload) };
    Ok(Sealed { bytes: out.into_writer(), id, header })
}

fn header(new: &NewEntry, body: &[u8], signer: &impl Signer) -> Result<Header, Error> {
    Ok(Header {
        format: FORMAT,
        log: signer.public().log(),
        seq: new.link.seq()?,
        previous: new.link.previous(),
        kind: new.kind,
        body_version: new.body_version,
        body: BodyHash::of(body),
        body_length: body.len() as u64,
        claimed: new.claimed,
        boot: new.boot.clone(),
    })
}
