//! The register row as it stood.

use domain::visit::{Crew, Elevation, Hazards, Instrument, Limits, Liquid, Other, Overpressure, Site};

use super::{earlier, finding, mounting, riser_pipe, tape};
use crate::Error;
use crate::codec::{Fields, Map, Out, Read, Written, row, text};

/// Writes an instrument.
pub(crate) fn write(out: &mut Out, of: &Instrument) -> Written {
    let mut map = Map::default();
    map.texts(&[
        (1, &of.tag),
        (2, &of.service),
        (3, &of.serial),
        (7, &of.unit),
        (8, &of.riser),
        (9, &of.riser_from),
        (10, &of.span),
        (11, &of.lrv),
        (12, &of.urv),
        (15, &of.sill),
        (16, &of.floor),
        (17, &of.hatch),
        (18, &of.overflow),
        (19, &of.tolerance),
        (20, &of.adjust_limit),
        (21, &of.trim_rule),
        (22, &of.head_plan),
        (23, &of.offset_on_record),
        (24, &of.offset_date),
        (25, &of.adjust_note),
    ])?;
    map.list(4, &of.codes, |out, text| Ok(out.str(text)?.ok()?))?;
    map.put(5, |out| write_site(out, &of.site))?;
    map.put(6, |out| write_liquid(out, &of.liquid))?;
    map.flag(13, of.reverse)?;
    map.put(14, |out| write_limits(out, &of.limits))?;
    map.list(26, &of.safety, |out, text| Ok(out.str(text)?.ok()?))?;
    map.list(27, &of.back, |out, text| Ok(out.str(text)?.ok()?))?;
    map.list(28, &of.tapes, tape::write)?;
    map.flag(29, of.safety_function)?;
    map.some(30, of.mounting.as_ref(), mounting::write)?;
    map.list(32, &of.others, write_other)?;
    if of.crew != Crew::default() {
        map.put(33, |out| write_crew(out, &of.crew))?;
    }
    map.some(31, of.riser_pipe.as_ref(), riser_pipe::write)?;
    map.some(34, earlier::any(of).then_some(of), earlier::write)?;
    if of.overpressure != Overpressure::default() {
        map.put(35, |out| riser_pipe::write_overpressure(out, &of.overpressure))?;
    }
    map.some(36, finding::any(of).then_some(of), finding::write)?;
    map.list(37, &of.elevations, write_elevation)?;
    map.write(out)
}

/// The last field that version 1 has.
const LAST_OF_VERSION_1: u64 = 29;

/// Reads an instrument from a body of a version.
pub(crate) fn read(from: &mut Read<'_>, version: u32) -> Result<Instrument, Error> {
    let mut map = Fields::read(from, "instrument")?;
    if version == 1 {
        map.none_after(LAST_OF_VERSION_1)?;
    }
    let (interval, earlier) = map.some(34, earlier::read)?.unwrap_or_default();
    let [position, due, work] = map.some(36, finding::read)?.unwrap_or_default();
    let instrument = Instrument {
        position,
        due,
        work,
        interval,
        earlier,
        tag: map.text(1)?,
        service: map.text(2)?,
        serial: map.text(3)?,
        codes: map.list(4, "instrument.codes", |from| text(from, "instrument.codes"))?,
        site: map.need(5, read_site)?,
        liquid: map.need(6, read_liquid)?,
        unit: map.text(7)?,
        riser: map.text(8)?,
        riser_from: map.text(9)?,
        span: map.text(10)?,
        lrv: map.text(11)?,
        urv: map.text(12)?,
        reverse: map.flag(13)?,
        limits: map.need(14, read_limits)?,
        sill: map.text(15)?,
        floor: map.text(16)?,
        hatch: map.text(17)?,
        overflow: map.text(18)?,
        tolerance: map.text(19)?,
        adjust_limit: map.text(20)?,
        trim_rule: map.text(21)?,
        head_plan: map.text(22)?,
        offset_on_record: map.text(23)?,
        offset_date: map.text(24)?,
        adjust_note: map.text(25)?,
        safety: map.list(26, "instrument.safety", |from| text(from, "instrument.safety"))?,
        back: map.list(27, "instrument.back", |from| text(from, "instrument.back"))?,
        tapes: map.list(28, "instrument.tapes", |from| tape::read(from, version))?,
        safety_function: map.flag(29)?,
        mounting: map.some(30, mounting::read)?,
        riser_pipe: map.some(31, riser_pipe::read)?,
        others: map.list(32, "instrument.others", read_other)?,
        crew: map.some(33, read_crew)?.unwrap_or_default(),
        elevations: map.list(37, "instrument.elevations", read_elevation)?,
        overpressure: map.some(35, riser_pipe::read_overpressure)?.unwrap_or_default(),
    };
    map.end()?;
    Ok(instrument)
}

fn write_site(out: &mut Out, site: &Site) -> Written {
    let mut map = Map::default();
    map.texts(&[
        (1, &site.name),
        (2, &site.latitude),
        (3, &site.altitude),
        (5, &site.liquid_temperature),
        (6, &site.coldest),
        (7, &site.warmest),
        (8, &site.lengths),
    ])?;
    map.put(4, |out| write_hazards(out, &site.hazards))?;
    map.write(out)
}

fn read_site(from: &mut Read<'_>) -> Result<Site, Error> {
    let mut map = Fields::read(from, "site")?;
    let site = Site {
        name: map.text(1)?,
        latitude: map.text(2)?,
        altitude: map.text(3)?,
        hazards: map.need(4, read_hazards)?,
        liquid_temperature: map.text(5)?,
        coldest: map.text(6)?,
        warmest: map.text(7)?,
        lengths: map.text(8)?,
    };
    map.end()?;
    Ok(site)
}

fn write_hazards(out: &mut Out, hazards: &Hazards) -> Written {
    let mut map = Map::default();
    map.flag(1, hazards.zoned)?;
    map.flag(2, hazards.pit)?;
    map.texts(&[(3, &hazards.permit), (5, &hazards.note)])?;
    // Written the other way round, so that what is left out is the usual case here too.
    map.flag(4, !hazards.phone_allowed)?;
    map.write(out)
}

fn read_hazards(from: &mut Read<'_>) -> Result<Hazards, Error> {
    let mut map = Fields::read(from, "hazards")?;
    let hazards = Hazards {
        zoned: map.flag(1)?,
        pit: map.flag(2)?,
        permit: map.text(3)?,
        phone_allowed: !map.flag(4)?,
        note: map.text(5)?,
    };
    map.end()?;
    Ok(hazards)
}

fn write_liquid(out: &mut Out, liquid: &Liquid) -> Written {
    let mut map = Map::default();
    map.texts(&[
        (1, &liquid.name),
        (2, &liquid.density),
        (3, &liquid.at),
        (4, &liquid.expansion),
        (5, &liquid.uncertainty),
    ])?;
    map.flag(6, liquid.drinking)?;
    map.flag(7, liquid.harmful)?;
    map.write(out)
}

fn read_liquid(from: &mut Read<'_>) -> Result<Liquid, Error> {
    let mut map = Fields::read(from, "liquid")?;
    let liquid = Liquid {
        name: map.text(1)?,
        density: map.text(2)?,
        at: map.text(3)?,
        expansion: map.text(4)?,
        uncertainty: map.text(5)?,
        drinking: map.flag(6)?,
        harmful: map.flag(7)?,
    };
    map.end()?;
    Ok(liquid)
}

/// Writes a sensor's limits.
pub(crate) fn write_limits(out: &mut Out, limits: &Limits) -> Written {
    let mut map = Map::default();
    map.texts(&[
        (1, &limits.lrl),
        (2, &limits.url),
        (3, &limits.min_span),
        (4, &limits.max_working),
        (5, &limits.trim_limit),
        (6, &limits.accuracy),
        (7, &limits.zero_allowance),
    ])?;
    map.write(out)
}

/// Reads a sensor's limits.
pub(crate) fn read_limits(from: &mut Read<'_>) -> Result<Limits, Error> {
    let mut map = Fields::read(from, "limits")?;
    let limits = Limits {
        lrl: map.text(1)?,
        url: map.text(2)?,
        min_span: map.text(3)?,
        max_working: map.text(4)?,
        trim_limit: map.text(5)?,
        accuracy: map.text(6)?,
        zero_allowance: map.text(7)?,
    };
    map.end()?;
    Ok(limits)
}

/// Another instrument is `[name, uncertainty, shares]`.
fn write_other(out: &mut Out, other: &Other) -> Written {
    Ok(out.array(3)?.str(&other.name)?.str(&other.uncertainty)?.str(&other.shares)?.ok()?)
}

fn read_other(from: &mut Read<'_>) -> Result<Other, Error> {
    let place = "other";
    row(from, 3, place)?;
    Ok(Other { name: text(from, place)?, uncertainty: text(from, place)?, shares: text(from, place)? })
}

/// A named height is `[name, height]`.
fn write_elevation(out: &mut Out, elevation: &Elevation) -> Written {
    Ok(out.array(2)?.str(&elevation.name)?.str(&elevation.height)?.ok()?)
}

fn read_elevation(from: &mut Read<'_>) -> Result<Elevation, Error> {
    let place = "elevation";
    row(from, 2, place)?;
    Ok(Elevation { name: text(from, place)?, height: text(from, place)? })
}

fn write_crew(out: &mut Out, crew: &Crew) -> Written {
    let mut map = Map::default();
    map.flag(1, crew.climb)?;
    map.flag(2, crew.hatch_from_ground)?;
    map.flag(3, crew.never_vent)?;
    map.write(out)
}

fn read_crew(from: &mut Read<'_>) -> Result<Crew, Error> {
    let mut map = Fields::read(from, "crew")?;
    let crew = Crew { climb: map.flag(1)?, hatch_from_ground: map.flag(2)?, never_vent: map.flag(3)? };
    map.end()?;
    Ok(crew)
}
