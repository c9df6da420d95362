//! The riser as a pipe, and what presses on the sensor beside the column, as the register had them. Since version 2.

use domain::visit::{Overpressure, RiserPipe};

use crate::Error;
use crate::codec::{Fields, Map, Out, Read, Written};

/// Writes a riser.
pub(super) fn write(out: &mut Out, of: &RiserPipe) -> Written {
    let mut map = Map::default();
    map.texts(&[
        (1, &of.bore),
        (2, &of.most_flow),
        (3, &of.length),
        (4, &of.roughness),
        (5, &of.entry),
        (6, &of.fittings),
        (7, &of.viscosity),
    ])?;
    map.flag(8, of.dead_leg)?;
    map.write(out)
}

/// Reads a riser.
pub(super) fn read(from: &mut Read<'_>) -> Result<RiserPipe, Error> {
    let mut map = Fields::read(from, "riser_pipe")?;
    let pipe = RiserPipe {
        bore: map.text(1)?,
        most_flow: map.text(2)?,
        length: map.text(3)?,
        roughness: map.text(4)?,
        entry: map.text(5)?,
        fittings: map.text(6)?,
        viscosity: map.text(7)?,
        dead_leg: map.flag(8)?,
    };
    map.end()?;
    Ok(pipe)
}

/// Writes pressures that come and go.
pub(super) fn write_overpressure(out: &mut Out, of: &Overpressure) -> Written {
    let mut map = Map::default();
    map.texts(&[(1, &of.surge), (2, &of.shut_off), (3, &of.hydrotest)])?;
    map.write(out)
}

/// Reads pressures that come and go.
pub(super) fn read_overpressure(from: &mut Read<'_>) -> Result<Overpressure, Error> {
    let mut map = Fields::read(from, "overpressure")?;
    let of = Overpressure { surge: map.text(1)?, shut_off: map.text(2)?, hydrotest: map.text(3)? };
    map.end()?;
    Ok(of)
}
