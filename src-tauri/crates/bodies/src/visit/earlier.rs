//! The interval in force and the earlier visits, as the register row held them.

use domain::visit::{Earlier, Instrument};

use crate::Error;
use crate::codec::{Fields, Map, Out, Read, Written};

/// Tells whether there is anything to write.
pub(super) fn any(of: &Instrument) -> bool {
    !of.interval.is_empty() || !of.earlier.is_empty()
}

/// Writes both as a map.
pub(super) fn write(out: &mut Out, of: &Instrument) -> Written {
    let mut map = Map::default();
    map.texts(&[(1, &of.interval)])?;
    map.list(2, &of.earlier, write_one)?;
    map.write(out)
}

/// Reads both.
pub(super) fn read(from: &mut Read<'_>) -> Result<(String, Vec<Earlier>), Error> {
    let mut map = Fields::read(from, "instrument.earlier")?;
    let read = (map.text(1)?, map.list(2, "instrument.earlier", read_one)?);
    map.end()?;
    Ok(read)
}

fn write_one(out: &mut Out, of: &Earlier) -> Written {
    let mut map = Map::default();
    map.texts(&[
        (1, &of.date),
        (2, &of.offset),
        (3, &of.density),
        (4, &of.gravity),
        (5, &of.uncertainty),
        (6, &of.left),
        (7, &of.error),
        (8, &of.tolerance),
        (9, &of.serial),
        (10, &of.by),
        (11, &of.tape),
    ])?;
    map.flag(12, of.moved)?;
    map.write(out)
}

fn read_one(from: &mut Read<'_>) -> Result<Earlier, Error> {
    let mut map = Fields::read(from, "earlier")?;
    let earlier = Earlier {
        date: map.text(1)?,
        offset: map.text(2)?,
        density: map.text(3)?,
        gravity: map.text(4)?,
        uncertainty: map.text(5)?,
        left: map.text(6)?,
        error: map.text(7)?,
        tolerance: map.text(8)?,
        serial: map.text(9)?,
        by: map.text(10)?,
        tape: map.text(11)?,
        moved: map.flag(12)?,
    };
    map.end()?;
    Ok(earlier)
}
