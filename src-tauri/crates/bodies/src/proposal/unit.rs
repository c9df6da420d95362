//! Another unit that was fitted, as a proposal says it.

use domain::visit::Limits;
use record::PayloadHash;

use crate::Error;
use crate::codec::{Fields, Map, Out, Read, Written, bytes};
use crate::visit::{read_limits, write_limits};

/// Another unit on an instrument.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct UnitFitted {
    /// The serial number that the register had.
    pub before: String,
    /// The serial number on the plate of the unit that is fitted.
    pub serial: String,
    /// Its limits, as they were read off its plate; what could not be read is as the register had it.
    pub limits: Limits,
    /// The visit that found it: the hash of its entry's payload.
    pub visit: PayloadHash,
}

impl UnitFitted {
    pub(super) fn write(&self, out: &mut Out) -> Written {
        let mut map = Map::default();
        map.texts(&[(1, &self.before), (2, &self.serial)])?;
        map.put(3, |out| write_limits(out, &self.limits))?;
        map.put(4, |out| Ok(out.bytes(&self.visit.0)?.ok()?))?;
        map.write(out)
    }

    pub(super) fn read(from: &mut Read<'_>) -> Result<UnitFitted, Error> {
        let mut map = Fields::read(from, "proposal.unit")?;
        let unit = UnitFitted {
            before: map.text(1)?,
            serial: map.text(2)?,
            limits: map.need(3, read_limits)?,
            visit: PayloadHash(map.need(4, |from| bytes(from, "proposal.unit.visit"))?),
        };
        map.end()?;
        Ok(unit)
    }
}
