//! The register's table of sensors that could be fitted, as the hub's pages carry it.

use domain::visit::SensorRange;
use minicbor::{Decoder, Encoder};
use record::cbor;

use crate::Error;
use crate::codec::{Fields, Map, Out, Read, Written};

/// The table, whole: it is small, and one that is new takes the place of the one before.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct SensorTable(pub Vec<SensorRange>);

impl SensorTable {
    /// Writes the table.
    ///
    /// # Errors
    ///
    /// None in practice; see [`Error::Writing`].
    pub fn encode(&self) -> Result<Vec<u8>, Error> {
        let mut out = Encoder::new(Vec::new());
        let mut map = Map::default();
        map.list(1, &self.0, write)?;
        map.write(&mut out)?;
        Ok(out.into_writer())
    }

    /// Reads a table.
    ///
    /// # Errors
    ///
    /// What no program of ours wrote; [`Error::UnknownField`] also for what a newer one did.
    pub fn decode(table: &[u8]) -> Result<SensorTable, Error> {
        cbor::check(table).map_err(|fault| Error::Cbor { at: fault.at, flaw: fault.flaw })?;
        let mut map = Fields::read(&mut Decoder::new(table), "sensors")?;
        let read = SensorTable(map.list(1, "sensors", read)?);
        map.end()?;
        if read.encode()? == table { Ok(read) } else { Err(Error::OtherForm) }
    }
}

fn write(out: &mut Out, of: &SensorRange) -> Written {
    let mut map = Map::default();
    map.texts(&[
        (1, &of.name),
        (2, &of.lrl),
        (3, &of.url),
        (4, &of.min_span),
        (5, &of.turndown),
        (6, &of.max_working),
        (7, &of.trim_limit),
        (8, &of.accuracy),
        (9, &of.zero_allowance),
        (10, &of.drift),
        (11, &of.ten_kelvin),
    ])?;
    map.write(out)
}

fn read(from: &mut Read<'_>) -> Result<SensorRange, Error> {
    let mut map = Fields::read(from, "sensors")?;
    let range = SensorRange {
        name: map.text(1)?,
        lrl: map.text(2)?,
        url: map.text(3)?,
        min_span: map.text(4)?,
        turndown: map.text(5)?,
        max_working: map.text(6)?,
        trim_limit: map.text(7)?,
        accuracy: map.text(8)?,
        zero_allowance: map.text(9)?,
        drift: map.text(10)?,
        ten_kelvin: map.text(11)?,
    };
    map.end()?;
    Ok(range)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn table() -> SensorTable {
        let small = SensorRange {
            name: "0 to 25 kPa".into(),
            lrl: "-25 kPa".into(),
            url: "25 kPa".into(),
            min_span: "0.5 kPa".into(),
            turndown: String::new(),
            max_working: "10 MPa".into(),
            trim_limit: "25 kPa".into(),
            accuracy: "0.055 %".into(),
            zero_allowance: String::new(),
            drift: "0.1 %".into(),
            ten_kelvin: "0.02 %".into(),
        };
        let large = SensorRange { name: "0 to 250 kPa".into(), turndown: "100".into(), ..small.clone() };
        SensorTable(vec![small, large])
    }

    #[test]
    fn a_table_comes_back_as_it_was() {
        for table in [SensorTable::default(), table()] {
            assert_eq!(SensorTable::decode(&table.encode().unwrap()).unwrap(), table);
        }
    }

    #[test]
    fn what_a_newer_program_wrote_is_not_guessed_at() {
        // Keys 1 (no list) and 2.
        assert!(matches!(SensorTable::decode(&[0xa1, 2, 0x80]), Err(Error::UnknownField { .. })));
        let mut bytes = table().encode().unwrap();
        bytes.pop();
        assert!(SensorTable::decode(&bytes).is_err());
    }
}
