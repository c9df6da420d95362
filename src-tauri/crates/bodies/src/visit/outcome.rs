//! What followed from the answers: results, what was said, the working.

use domain::visit::{ResultKey, ResultLine, Said, WorkLine};

use crate::Error;
use crate::codec::{Out, Read, Written, read_measured, row, text, write_measured};

/// Writes `[result, number, unit]`.
pub(super) fn write_result(out: &mut Out, line: &ResultLine) -> Written {
    out.array(3)?.u16(line.key.code())?;
    write_measured(out, &line.value)
}

/// Reads a result.
pub(super) fn read_result(from: &mut Read<'_>) -> Result<ResultLine, Error> {
    let place = "result";
    row(from, 3, place)?;
    let code = from.u16().map_err(|_| Error::at(place))?;
    let key = ResultKey::from_code(code).ok_or(Error::Newer { what: "result", number: u64::from(code) })?;
    Ok(ResultLine { key, value: read_measured(from, "result.value")? })
}

/// Writes `[word, sentence]`.
pub(super) fn write_said(out: &mut Out, said: &Said) -> Written {
    Ok(out.array(2)?.str(&said.code)?.str(&said.text)?.ok()?)
}

/// Reads something said.
pub(super) fn read_said(from: &mut Read<'_>) -> Result<Said, Error> {
    let place = "verdict, assumption or warning";
    row(from, 2, place)?;
    Ok(Said { code: text(from, place)?, text: text(from, place)? })
}

/// Writes `[what, how, value]`.
pub(super) fn write_work(out: &mut Out, line: &WorkLine) -> Written {
    Ok(out.array(3)?.str(&line.what)?.str(&line.how)?.str(&line.value)?.ok()?)
}

/// Reads a line of the working.
pub(super) fn read_work(from: &mut Read<'_>) -> Result<WorkLine, Error> {
    let place = "working";
    row(from, 3, place)?;
    Ok(WorkLine { what: text(from, place)?, how: text(from, place)?, value: text(from, place)? })
}
