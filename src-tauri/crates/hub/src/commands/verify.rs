//! `verify`: proving a file.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use anyhow::{Context, Result};

use crate::proving::{Proved, Report, prove};

pub(super) fn verify(file: &Path, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let bytes = std::fs::read(file)
        .with_context(|| format!("{} could not be read. Check its name.", file.display()))?;
    let report = match prove(&bytes) {
        Proved::Export(report) | Proved::Bundle(report) => report,
        Proved::Neither(why) => {
            writeln!(out, "{why}")?;
            return Ok(ExitCode::FAILURE);
        }
    };
    write!(out, "{report}")?;
    Ok(outcome(&report))
}

/// How a program learns of it: 0 where all holds, 1 where something fails, 3 where nothing does and not all of it could be
/// checked, since a newer app made it. (2 is a command line that cannot be read.)
pub(super) fn outcome(report: &Report) -> ExitCode {
    match (report.holds(), report.is_checked()) {
        (true, true) => ExitCode::SUCCESS,
        (true, false) => ExitCode::from(3),
        (false, _) => ExitCode::FAILURE,
    }
}
