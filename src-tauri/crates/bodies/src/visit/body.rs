//! The body as a whole.

use domain::visit::{Finished, Moment};
use record::{Kind, PayloadHash};

use super::{answers, instrument, outcome};
use crate::body::{Body, body_methods};
use crate::codec::{Fields, Map, Written, bytes};
use crate::{Error, Technician};

/// The kind of entry that holds a visit.
pub const VISIT: Kind = Kind(1);

/// The version of the visit's body that is written here. What version 1 says, version 2 says with the same bytes; it
/// adds fields of the instrument and kinds of evidence.
pub const VISIT_VERSION: u32 = 2;

/// A visit as it is signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Visit {
    /// Who made it.
    pub technician: Technician,
    /// The version of the app that wrote it.
    pub app: String,
    /// What was done and found.
    pub finished: Finished,
    /// The observations that it rests on: the hashes of their entries' payloads. Since version 2.
    pub cited: Vec<PayloadHash>,
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
    pub(super) const CITED: u64 = 13;
}

body_methods!(Visit);

/// The last field that version 1 has.
const LAST_OF_VERSION_1: u64 = key::WORKING;

impl Body for Visit {
    const KIND: Kind = VISIT;
    const VERSION: u32 = VISIT_VERSION;
    const NAME: &'static str = "visit";
    const VERSIONED: &'static str = "visit version";

    fn write(&self, map: &mut Map) -> Written {
        let Visit { technician, app, finished, cited } = self;
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
        map.list(key::CITED, cited, |out, hash| Ok(out.bytes(&hash.0)?.ok()?))
    }

    fn read(map: &mut Fields<'_>, version: u32) -> Result<Visit, Error> {
        if version == 1 {
            map.none_after(LAST_OF_VERSION_1)?;
        }
        let begun = Moment(map.need(key::BEGUN, |from| from.i64().map_err(|_| Error::at("visit.begun")))?);
        let cited = map.list(key::CITED, "visit.cited", |from| bytes(from, "visit.cited"))?;
        Ok(Visit {
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
            cited: cited.into_iter().map(PayloadHash).collect(),
        })
    }
}
