//! The table of sensors that could be fitted, as the hub feeds it: whole, in an area of its own that has no instruments.

use bodies::SensorTable;
use exchange::page::Page;
use rusqlite::Connection;

use crate::{Error, settings};

/// The setting that the table is kept under, as JSON, whether it came in a file or from the hub.
pub const SENSOR_RANGES: &str = "register.sensor_ranges";

/// Puts the table of a page in the place of the one here; returns whether this version can read it.
pub(crate) fn replace(connection: &Connection, page: &Page) -> Result<bool, Error> {
    let table = page.sensors.as_ref().and_then(|table| SensorTable::decode(table).ok());
    let Some(ranges) = table.and_then(|SensorTable(ranges)| serde_json::to_string(&ranges).ok()) else {
        return Ok(false);
    };
    put(connection, &ranges)?;
    Ok(true)
}

/// Empties the table: the hub has none any more.
pub(crate) fn clear(connection: &Connection) -> Result<(), Error> {
    put(connection, "[]")
}

fn put(connection: &Connection, ranges: &str) -> Result<(), Error> {
    settings::put(connection, &[(SENSOR_RANGES, ranges)])
}
