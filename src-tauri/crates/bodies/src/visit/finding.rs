//! What the register says to find an instrument by. Since version 2.

use domain::visit::Instrument;

use crate::Error;
use crate::codec::{Fields, Map, Out, Read, Written};

/// Tells whether there is anything to write.
pub(super) fn any(of: &Instrument) -> bool {
    [&of.position, &of.due, &of.work].iter().any(|text| !text.is_empty())
}

/// Writes position, due date and why it stands on the work list.
pub(super) fn write(out: &mut Out, of: &Instrument) -> Written {
    let mut map = Map::default();
    map.texts(&[(1, &of.position), (2, &of.due), (3, &of.work)])?;
    map.write(out)
}

/// Reads the same.
pub(super) fn read(from: &mut Read<'_>) -> Result<[String; 3], Error> {
    let mut map = Fields::read(from, "instrument.finding")?;
    let read = [map.text(1)?, map.text(2)?, map.text(3)?];
    map.end()?;
    Ok(read)
}
