//! What all bodies have in common: how they are written and read, and what is refused whatever they say.

use minicbor::{Decoder, Encoder};
use record::{Entry, Kind, MAX_BODY, cbor};

use crate::Error;
use crate::codec::{Fields, Map, Written};

/// One kind of body.
pub(crate) trait Body: Sized {
    /// The kind of entry that holds it.
    const KIND: Kind;
    /// The version that is written, and the highest that is read.
    const VERSION: u32;
    /// What it is called in messages, and the place of its outermost map.
    const NAME: &'static str;

    /// How its version is called in messages.
    const VERSIONED: &'static str;

    /// Puts the fields into the map.
    fn write(&self, map: &mut Map) -> Written;

    /// Takes the fields out of a map of this version.
    fn read(map: &mut Fields<'_>, version: u32) -> Result<Self, Error>;

    /// Finds what the fields may not say together: nothing is written and nothing is read that breaks it. Gives the
    /// place.
    fn check(&self) -> Result<(), &'static str> {
        Ok(())
    }
}

/// Writes a body.
pub(crate) fn encode<B: Body>(of: &B) -> Result<Vec<u8>, Error> {
    of.check().map_err(|place| Error::Incomplete { what: B::NAME, place })?;
    let body = write(of)?;
    if body.len() > MAX_BODY {
        return Err(Error::TooLong { what: B::NAME, length: body.len(), limit: MAX_BODY });
    }
    Ok(body)
}

/// Reads the body of an entry.
pub(crate) fn of_entry<B: Body>(entry: &Entry<'_>) -> Result<B, Error> {
    if entry.header.kind != B::KIND {
        return Err(Error::OtherKind(entry.header.kind.0));
    }
    decode(entry.header.body_version, entry.body)
}

/// Reads a body of a version.
pub(crate) fn decode<B: Body>(version: u32, body: &[u8]) -> Result<B, Error> {
    if version > B::VERSION {
        return Err(Error::Newer { what: B::VERSIONED, number: u64::from(version) });
    }
    if version == 0 {
        return Err(Error::at("version"));
    }
    cbor::check(body).map_err(|fault| Error::Cbor { at: fault.at, flaw: fault.flaw })?;
    let mut map = Fields::read(&mut Decoder::new(body), B::NAME)?;
    let read = B::read(&mut map, version)?;
    map.end()?;
    read.check().map_err(Error::at)?;
    // Deterministic CBOR still leaves room: an empty text written out, a number with zeros at its end.
    if write(&read)? == body { Ok(read) } else { Err(Error::OtherForm) }
}

fn write<B: Body>(of: &B) -> Result<Vec<u8>, Error> {
    let mut map = Map::default();
    of.write(&mut map)?;
    let mut out = Encoder::new(Vec::new());
    map.write(&mut out)?;
    Ok(out.into_writer())
}

/// Gives a kind of body its public methods, so that whoever reads one needs no trait at hand.
macro_rules! body_methods {
    ($name:ident) => {
        impl $name {
            /// Writes the body.
            ///
            /// # Errors
            ///
            /// [`Error::TooLong`](crate::Error::TooLong) for more than an entry may hold, and
            /// [`Error::Incomplete`](crate::Error::Incomplete) for what no reader would take.
            pub fn encode(&self) -> Result<Vec<u8>, crate::Error> {
                crate::body::encode(self)
            }

            /// Reads the body of an entry.
            ///
            /// # Errors
            ///
            /// [`Error::OtherKind`](crate::Error::OtherKind) for another kind of entry, and as [`Self::decode`].
            pub fn of_entry(entry: &record::Entry<'_>) -> Result<Self, crate::Error> {
                crate::body::of_entry(entry)
            }

            /// Reads a body of the version that its entry's header names.
            ///
            /// # Errors
            ///
            /// [`Error::Newer`](crate::Error::Newer) for what a newer program wrote; the other errors for what no
            /// program of ours wrote. The bytes are kept in either case.
            pub fn decode(version: u32, body: &[u8]) -> Result<Self, crate::Error> {
                crate::body::decode(version, body)
            }
        }
    };
}

pub(crate) use body_methods;
