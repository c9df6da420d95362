//! An instrument's row of the register by itself, as the hub's pages carry it.

use domain::visit::Instrument;
use minicbor::{Decoder, Encoder};
use record::cbor;

use crate::visit::instrument;
use crate::{Error, VISIT_VERSION};

/// A row of the register: the map that a visit of version 2 has as its instrument, to the byte.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct RegisterRow(pub Instrument);

impl RegisterRow {
    /// Writes the row.
    ///
    /// # Errors
    ///
    /// None in practice; see [`Error::Writing`].
    pub fn encode(&self) -> Result<Vec<u8>, Error> {
        let mut out = Encoder::new(Vec::new());
        instrument::write(&mut out, &self.0)?;
        Ok(out.into_writer())
    }

    /// Reads a row.
    ///
    /// # Errors
    ///
    /// What no program of ours wrote; [`Error::UnknownField`] also for what a newer one did.
    pub fn decode(row: &[u8]) -> Result<RegisterRow, Error> {
        cbor::check(row).map_err(|fault| Error::Cbor { at: fault.at, flaw: fault.flaw })?;
        let read = RegisterRow(instrument::read(&mut Decoder::new(row), VISIT_VERSION)?);
        if read.encode()? == row { Ok(read) } else { Err(Error::OtherForm) }
    }
}
