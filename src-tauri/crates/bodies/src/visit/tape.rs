//! A dip tape of the register row: `[id, uncertainty, due]`, and from version 2 on, where there is more to say of it, a map
//! behind these: 1 expansion, 2 the temperature it is true at, 3 pull, 4 cross-section, 5 modulus.

use domain::visit::Tape;

use crate::Error;
use crate::codec::{Fields, Map, Out, Read, Written, text};

const PLACE: &str = "tape";

fn make(tape: &Tape) -> [(u64, &String); 5] {
    [(1, &tape.expansion), (2, &tape.at), (3, &tape.pull), (4, &tape.section), (5, &tape.modulus)]
}

/// Writes a tape.
pub(super) fn write(out: &mut Out, tape: &Tape) -> Written {
    let more = make(tape).iter().any(|(_, text)| !text.is_empty());
    out.array(if more { 4 } else { 3 })?.str(&tape.id)?.str(&tape.uncertainty)?.str(&tape.due)?;
    if !more {
        return Ok(());
    }
    let mut map = Map::default();
    map.texts(&make(tape).map(|(key, text)| (key, text.as_str())))?;
    map.write(out)
}

/// Reads a tape from a body of a version.
pub(super) fn read(from: &mut Read<'_>, version: u32) -> Result<Tape, Error> {
    let length = from.array().map_err(|_| Error::at(PLACE))?;
    let more = length == Some(4) && version > 1;
    if length != Some(3) && !more {
        return Err(Error::at(PLACE));
    }
    let (id, uncertainty, due) = (text(from, PLACE)?, text(from, PLACE)?, text(from, PLACE)?);
    let tape = Tape { id, uncertainty, due, ..Tape::default() };
    if !more {
        return Ok(tape);
    }
    let mut map = Fields::read(from, PLACE)?;
    let tape = Tape {
        expansion: map.text(1)?,
        at: map.text(2)?,
        pull: map.text(3)?,
        section: map.text(4)?,
        modulus: map.text(5)?,
        ..tape
    };
    map.end()?;
    Ok(tape)
}
