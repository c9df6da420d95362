//! The body as a whole, and who made the visit.

use domain::visit::{Finished, Moment};
use minicbor::{Decoder, Encoder};
use record::{Kind, MAX_BODY, cbor};

use super::{Confirmed, answers, instrument, outcome};
use crate::Error;
use crate::codec::{Fields, Map, Out, Read, Written, row, text};

/// The kind of entry that holds a visit.
pub const VISIT: Kind = Kind(1);

/// The version of the visit's body that is written here. What version 1 says, version 2 says with the same bytes; it
/// adds fields of the instrument and kinds of evidence.
pub const VISIT_VERSION: u32 = 2;

/// A person: a random name that says nothing. Who it is stands in the register and can be erased there.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct PersonId(pub [u8; 16]);

/// Who made the visit, and how the phone knew.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Technician {
    /// Who.
    pub person: PersonId,
    /// How it was confirmed at signing.
    pub confirmed: Confirmed,
}

/// A visit as it is signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Visit {
    /// Who made it.
    pub technician: Technician,
    /// The version of the app that wrote it.
    pub app: String,
    /// What was done and found.
    pub finished: Finished,
}

mod key {
    pub(super) const MODEL: u64 = 1;
    pub(super) const APP: u64 = 2;
    pub(super) const TECHNICIAN: u64 = 3;
    pub(super) const BEGUN: u64 = 4;
    pub(super) const INSTRUMENT: u64 = 5;
    pub(super) const PIECES: u64 = 6;
    pub(super) const ANSWERS: u64 = 7;
    pub(super) const RESULTS: u64 = 8;
    pub(super) const VERDICT: u64 = 9;
    pub(super) const ASSUMPTIONS: u64 = 10;
    pub(super) const WARNINGS: u64 = 11;
    pub(super) const WORKING: u64 = 12;
}

impl Visit {
    /// Writes the body.
    ///
    /// # Errors
    ///
    /// [`Error::TooLong`] for more than an entry may hold.
    pub fn encode(&self) -> Result<Vec<u8>, Error> {
        let body = self.write()?;
        if body.len() > MAX_BODY {
            return Err(Error::TooLong { length: body.len(), limit: MAX_BODY });
        }
        Ok(body)
    }

    /// Reads the body of an entry.
    ///
    /// # Errors
    ///
    /// [`Error::OtherKind`] for another kind of entry, and as [`Visit::decode`].
    pub fn of_entry(entry: &record::Entry<'_>) -> Result<Visit, Error> {
        if entry.header.kind != VISIT {
            return Err(Error::OtherKind(entry.header.kind.0));
        }
        Visit::decode(entry.header.body_version, entry.body)
    }

    /// Reads a body of the version that its entry's header names.
    ///
    /// # Errors
    ///
    /// [`Error::Newer`] for what a newer program wrote; the other errors for what no program of ours wrote. The
    /// bytes are kept in either case.
    pub fn decode(version: u32, body: &[u8]) -> Result<Visit, Error> {
        if version > VISIT_VERSION {
            return Err(Error::Newer { what: "visit version", number: u64::from(version) });
        }
        if version == 0 {
            return Err(Error::Malformed { place: "version" });
        }
        cbor::check(body).map_err(|fault| Error::Cbor { at: fault.at, flaw: fault.flaw })?;
        let visit = Visit::read(&mut Decoder::new(body), version)?;
        // Deterministic CBOR still leaves room: an empty text written out, a number with zeros at its end.
        if visit.write()? == body { Ok(visit) } else { Err(Error::OtherForm) }
    }

    fn write(&self) -> Result<Vec<u8>, Error> {
        let Visit { technician, app, finished } = self;
        let mut map = Map::default();
        map.put(key::MODEL, |out| Ok(out.u32(finished.model)?.ok()?))?;
        map.texts(&[(key::APP, app)])?;
        map.put(key::TECHNICIAN, |out| technician.write(out))?;
        map.put(key::BEGUN, |out| Ok(out.i64(finished.begun.0)?.ok()?))?;
        map.put(key::INSTRUMENT, |out| instrument::write(out, &finished.instrument))?;
        map.list(key::PIECES, &finished.pieces, answers::write_piece)?;
        map.list(key::ANSWERS, &finished.answers, |out, answer| answers::write(out, answer, finished.begun))?;
        map.list(key::RESULTS, &finished.results, outcome::write_result)?;
        map.put(key::VERDICT, |out| outcome::write_said(out, &finished.verdict))?;
        map.list(key::ASSUMPTIONS, &finished.assumptions, outcome::write_said)?;
        map.list(key::WARNINGS, &finished.warnings, outcome::write_said)?;
        map.list(key::WORKING, &finished.working, outcome::write_work)?;
        let mut out = Encoder::new(Vec::new());
        map.write(&mut out)?;
        Ok(out.into_writer())
    }

    fn read(from: &mut Read<'_>, version: u32) -> Result<Visit, Error> {
        let mut map = Fields::read(from, "visit")?;
        let begun = Moment(map.need(key::BEGUN, |from| from.i64().map_err(|_| Error::at("visit.begun")))?);
        let visit = Visit {
            technician: map.need(key::TECHNICIAN, Technician::read)?,
            app: map.text(key::APP)?,
            finished: Finished {
                model: map.need(key::MODEL, |from| from.u32().map_err(|_| Error::at("visit.model")))?,
                instrument: map.need(key::INSTRUMENT, |from| instrument::read(from, version))?,
                begun,
                pieces: map.list(key::PIECES, "visit.pieces", |from| answers::read_piece(from, version))?,
                answers: map.list(key::ANSWERS, "visit.answers", |from| answers::read(from, begun))?,
                results: map.list(key::RESULTS, "visit.results", outcome::read_result)?,
                verdict: map.need(key::VERDICT, outcome::read_said)?,
                assumptions: map.list(key::ASSUMPTIONS, "visit.assumptions", outcome::read_said)?,
                warnings: map.list(key::WARNINGS, "visit.warnings", outcome::read_said)?,
                working: map.list(key::WORKING, "visit.working", outcome::read_work)?,
            },
        };
        map.end()?;
        Ok(visit)
    }
}

impl Technician {
    pub(crate) fn write(&self, out: &mut Out) -> Written {
        Ok(out.array(2)?.bytes(&self.person.0)?.str(self.confirmed.word())?.ok()?)
    }

    pub(crate) fn read(from: &mut Read<'_>) -> Result<Technician, Error> {
        let place = "technician";
        row(from, 2, place)?;
        let person = from.bytes().ok().and_then(|bytes| bytes.try_into().ok()).ok_or(Error::at(place))?;
        let confirmed = Confirmed::from_word(&text(from, place)?).ok_or(Error::at(place))?;
        Ok(Technician { person: PersonId(person), confirmed })
    }
}
