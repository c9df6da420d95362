//! A row of the register is what a visit has as its instrument, to the byte.

use bodies::{Error, RegisterRow};
use domain::visit::{Instrument, Mounted};
use minicbor::Decoder;
use record::cbor::check;

use crate::fields::with_field;

/// The example of a visit's version 2, whose instrument has most of what a row can have.
const VISIT: &[u8] = include_bytes!("../../../../../tests/suite/wire/v2/visit.headmark");

/// The instrument as it stands in the example's body: the value behind key 5.
fn in_the_visit() -> (Vec<u8>, Instrument) {
    let export = record::read_export(VISIT).unwrap();
    let body = export.entries[0].body;
    let mut from = Decoder::new(body);
    from.map().unwrap();
    while from.u64().unwrap() != 5 {
        from.skip().unwrap();
    }
    let at = from.position();
    from.skip().unwrap();
    let said = bodies::Visit::of_entry(&export.entries[0]).unwrap().finished.instrument;
    (body[at..from.position()].to_vec(), said)
}

#[test]
fn is_the_visits_instrument_to_the_byte() {
    let (bytes, said) = in_the_visit();
    assert_eq!(RegisterRow::decode(&bytes), Ok(RegisterRow(said.clone())));
    assert!(RegisterRow(said).encode().unwrap() == bytes);
}

#[test]
fn no_part_of_it_is_taken() {
    let (bytes, _) = in_the_visit();
    for end in 0..bytes.len() {
        assert!(RegisterRow::decode(&bytes[..end]).is_err(), "cut at {end}");
    }
}

#[test]
fn other_forms_are_refused() {
    let (bytes, mut said) = in_the_visit();
    let unknown = with_field(&bytes, 38, Some(b"\x01"));
    let told = Error::UnknownField { place: "instrument", key: 38 };
    assert_eq!(RegisterRow::decode(&unknown), Err(told));
    let empty = with_field(&bytes, 26, Some(b"\x80"));
    assert_eq!(check(&empty), Ok(()));
    assert_eq!(RegisterRow::decode(&empty), Err(Error::OtherForm));
    said.mounting = Some(Mounted { kind: "probe".into(), ..Mounted::default() });
    assert!(RegisterRow(said).encode().unwrap() != bytes);
}
