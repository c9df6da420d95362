//! The body as a whole: who proposes what for which instrument.

use record::Kind;

use super::UnitFitted;
use crate::body::{Body, body_methods};
use crate::codec::{Fields, Map, Written, text};
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

body_methods!(Proposal);

impl Body for Proposal {
    const KIND: Kind = PROPOSAL;
    const VERSION: u32 = PROPOSAL_VERSION;
    const NAME: &'static str = "proposal";
    const VERSIONED: &'static str = "proposal version";

    fn write(&self, map: &mut Map) -> Written {
        map.texts(&[(key::APP, &self.app), (key::REGISTER, &self.register), (key::TAG, &self.tag)])?;
        map.put(key::TECHNICIAN, |out| self.technician.write(out))?;
        match &self.what {
            Proposed::Code(code) => map.put(key::CODE, |out| Ok(out.str(code)?.ok()?)),
            Proposed::Unit(unit) => map.put(key::UNIT, |out| unit.write(out)),
        }
    }

    fn read(map: &mut Fields<'_>, _: u32) -> Result<Proposal, Error> {
        let code = map.some(key::CODE, |from| text(from, "proposal.code"))?;
        let unit = map.some(key::UNIT, UnitFitted::read)?;
        let what = match (code, unit) {
            (Some(code), None) => Proposed::Code(code),
            (None, Some(unit)) => Proposed::Unit(Box::new(unit)),
            // None says nothing, and of two nobody could say which was meant to be decided on.
            _ => return Err(Error::at("proposal.what")),
        };
        Ok(Proposal {
            technician: map.need(key::TECHNICIAN, Technician::read)?,
            app: map.text(key::APP)?,
            register: map.text(key::REGISTER)?,
            tag: map.text(key::TAG)?,
            what,
        })
    }
}
