//! `verify`: proving a file.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use anyhow::{Context, Result};
use record::LogId;

use crate::names::unhex;
use crate::proving::{Proved, Report, prove};

pub(super) fn verify(
    file: &Path,
    organisation: Option<&str>,
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    let name =
        "The organisation is named by the 64 digits and letters that `headmark-hub status` prints behind it.";
    let organisation = organisation.map(|text| unhex(text).map(LogId).context(name)).transpose()?;
    let bytes = std::fs::read(file)
        .with_context(|| format!("{} could not be read. Check its name.", file.display()))?;
    let report = match prove(&bytes, organisation) {
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
/// checked: a newer app made it, or nobody vouches for a key. (2 is a command line that cannot be read.)
pub(super) fn outcome(report: &Report) -> ExitCode {
    match (report.holds(), report.is_checked()) {
        (true, true) => ExitCode::SUCCESS,
        (true, false) => ExitCode::from(3),
        (false, _) => ExitCode::FAILURE,
    }
}
