//! The body as a whole: who proposes what for which instrument.

use minicbor::{Decoder, Encoder};
use record::{Kind, MAX_BODY, cbor};

use super::UnitFitted;
use crate::codec::{Fields, Map, Read, text};
use crate::{Error, Technician};

/// The kind of entry that holds a proposal to the register.
pub const PROPOSAL: Kind = Kind(4);

/// The version of the proposal's body that is written here.
pub const PROPOSAL_VERSION: u32 = 1;

/// What is proposed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Proposed {
    /// A code stands on this instrument: its whole text, as it was scanned.
    Code(String),
    /// Another unit is fitted.
    Unit(Box<UnitFitted>),
}

/// A proposal to the register as it is signed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Proposal {
    /// Who proposes it.
    pub technician: Technician,
    /// The version of the app that wrote it.
    pub app: String,
    /// The register that it was made beside: name and date, as they stood on the phone.
    pub register: String,
    /// The instrument's tag, as the register writes it.
    pub tag: String,
    /// What is proposed.
    pub what: Proposed,
}

mod key {
    pub(super) const APP: u64 = 1;
    pub(super) const TECHNICIAN: u64 = 2;
    pub(super) const REGISTER: u64 = 3;
    pub(super) const TAG: u64 = 4;
    pub(super) const CODE: u64 = 5;
    pub(super) const UNIT: u64 = 6;
}

impl Proposal {
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
    /// [`Error::OtherKind`] for another kind of entry, and as [`Proposal::decode`].
    pub fn of_entry(entry: &record::Entry<'_>) -> Result<Proposal, Error> {
        if entry.header.kind != PROPOSAL {
            return Err(Error::OtherKind(entry.header.kind.0));
        }
        Proposal::decode(entry.header.body_version, entry.body)
    }

    /// Reads a body of the version that its entry's header names.
    ///
    /// # Errors
    ///
    /// [`Error::Newer`] for what a newer program wrote; the other errors for what no program of ours wrote. The
    /// bytes are kept in either case.
    pub fn decode(version: u32, body: &[u8]) -> Result<Proposal, Error> {
        if version > PROPOSAL_VERSION {
            return Err(Error::Newer { what: "proposal version", number: u64::from(version) });
        }
        if version == 0 {
            return Err(Error::at("version"));
        }
        cbor::check(body).map_err(|fault| Error::Cbor { at: fault.at, flaw: fault.flaw })?;
        let proposal = Proposal::read(&mut Decoder::new(body))?;
        if proposal.write()? == body { Ok(proposal) } else { Err(Error::OtherForm) }
    }

    fn write(&self) -> Result<Vec<u8>, Error> {
        let mut map = Map::default();
        map.texts(&[(key::APP, &self.app), (key::REGISTER, &self.register), (key::TAG, &self.tag)])?;
        map.put(key::TECHNICIAN, |out| self.technician.write(out))?;
        match &self.what {
            Proposed::Code(code) => map.put(key::CODE, |out| Ok(out.str(code)?.ok()?))?,
            Proposed::Unit(unit) => map.put(key::UNIT, |out| unit.write(out))?,
        }
        let mut out = Encoder::new(Vec::new());
        map.write(&mut out)?;
        Ok(out.into_writer())
    }

    fn read(from: &mut Read<'_>) -> Result<Proposal, Error> {
        let mut map = Fields::read(from, "proposal")?;
        let code = map.some(key::CODE, |from| text(from, "proposal.code"))?;
        let unit = map.some(key::UNIT, UnitFitted::read)?;
        let what = match (code, unit) {
            (Some(code), None) => Proposed::Code(code),
            (None, Some(unit)) => Proposed::Unit(Box::new(unit)),
            // None says nothing, and of two nobody could say which was meant to be decided on.
            _ => return Err(Error::at("proposal.what")),
        };
        let proposal = Proposal {
            technician: map.need(key::TECHNICIAN, Technician::read)?,
            app: map.text(key::APP)?,
            register: map.text(key::REGISTER)?,
            tag: map.text(key::TAG)?,
            what,
        };
        map.end()?;
        Ok(proposal)
    }
}
