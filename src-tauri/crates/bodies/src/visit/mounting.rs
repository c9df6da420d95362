//! How the transmitter is mounted, as the register had it. Since version 2.

use domain::visit::{Filling, Mounted};

use crate::Error;
use crate::codec::{Fields, Map, Out, Read, Written};

/// Writes a mounting.
pub(super) fn write(out: &mut Out, of: &Mounted) -> Written {
    let mut map = Map::default();
    map.texts(&[
        (1, &of.kind),
        (2, &of.top),
        (3, &of.tap),
        (4, &of.heights_from),
        (7, &of.vapour_density),
        (8, &of.vapour_molar_mass),
        (9, &of.working_pressure),
        (10, &of.line_temperature),
        (11, &of.fill_temperature),
    ])?;
    map.some(5, of.fill.as_ref(), write_filling)?;
    map.some(6, of.light.as_ref(), write_filling)?;
    map.write(out)
}

/// Reads a mounting.
pub(super) fn read(from: &mut Read<'_>) -> Result<Mounted, Error> {
    let mut map = Fields::read(from, "mounting")?;
    let mounted = Mounted {
        kind: map.text(1)?,
        top: map.text(2)?,
        tap: map.text(3)?,
        heights_from: map.text(4)?,
        fill: map.some(5, read_filling)?,
        light: map.some(6, read_filling)?,
        vapour_density: map.text(7)?,
        vapour_molar_mass: map.text(8)?,
        working_pressure: map.text(9)?,
        line_temperature: map.text(10)?,
        fill_temperature: map.text(11)?,
    };
    map.end()?;
    Ok(mounted)
}

fn write_filling(out: &mut Out, of: &Filling) -> Written {
    let mut map = Map::default();
    map.texts(&[(1, &of.name), (2, &of.density), (3, &of.at), (4, &of.expansion), (5, &of.uncertainty)])?;
    map.write(out)
}

fn read_filling(from: &mut Read<'_>) -> Result<Filling, Error> {
    let mut map = Fields::read(from, "filling")?;
    let filling = Filling {
        name: map.text(1)?,
        density: map.text(2)?,
        at: map.text(3)?,
        expansion: map.text(4)?,
        uncertainty: map.text(5)?,
    };
    map.end()?;
    Ok(filling)
}
