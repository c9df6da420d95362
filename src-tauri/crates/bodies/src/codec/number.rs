//! Numbers with a unit: a decimal fraction (RFC 8949, section 3.4.4) and the unit's symbol.

use domain::quantity::Decimal;
use domain::visit::Measured;
use minicbor::data::Tag;

use super::{Out, Read, Written, text};
use crate::Error;

const DECIMAL_FRACTION: u64 = 4;

/// Writes the number and the unit, one after the other, into an array that the caller has opened.
pub(crate) fn write_measured(out: &mut Out, measured: &Measured) -> Written {
    // Whole numbers too: one content, one form.
    let Decimal { mantissa, exponent } = Decimal::trimmed(measured.value.mantissa, measured.value.exponent);
    out.tag(Tag::new(DECIMAL_FRACTION))?.array(2)?.i8(exponent)?.i64(mantissa)?;
    Ok(out.str(&measured.unit)?.ok()?)
}

/// Reads a number and a unit.
pub(crate) fn read_measured(from: &mut Read<'_>, place: &'static str) -> Result<Measured, Error> {
    let value = decimal(from).map_err(|_| Error::at(place))?;
    Ok(Measured { value, unit: text(from, place)? })
}

fn decimal(from: &mut Read<'_>) -> Result<Decimal, minicbor::decode::Error> {
    if from.tag()?.as_u64() != DECIMAL_FRACTION || from.array()? != Some(2) {
        return Err(minicbor::decode::Error::message("not a decimal fraction"));
    }
    Ok(Decimal { exponent: from.i8()?, mantissa: from.i64()? })
}
