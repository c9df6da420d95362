//! `import`: the register, or a bundle of records.

use std::io::Write;
use std::process::ExitCode;

use anyhow::{Context, Result, ensure};
use bodies::{FileHash, RegisterRow};
use hubstore::{Put, Row, Rows};
use sha2::{Digest, Sha256};

use super::arguments::Import;
use super::bundle::{import_bundle, is_bundle};
use super::opened::{Place, by};
use crate::changing;
use crate::register::{Incoming, read_file, read_table};

pub(super) async fn import(place: &Place, import: &Import, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let bytes = std::fs::read(&import.file).with_context(|| {
        format!("{} could not be read. Check its name, and that the hub may read it.", import.file.display())
    })?;
    if is_bundle(&bytes) {
        return import_bundle(place, import, &bytes, out).await;
    }
    ensure!(
        import.back.is_none(),
        "--back is for a bundle of records, and this file is none. Leave it out, or name the file that the phone wrote."
    );
    let area = import.area.as_deref();
    let incoming = if is_json(&bytes) { read_file(&bytes, area) } else { read_table(&bytes, area) };
    for problem in &incoming.problems {
        writeln!(out, "{problem}")?;
    }
    let (good, bad) =
        (incoming.rows.len(), incoming.problems.iter().filter(|problem| !problem.taken).count());
    if import.dry_run {
        writeln!(
            out,
            "{good} instruments can be taken; {bad} things must be corrected first. Nothing was taken."
        )?;
        return Ok(code(incoming.is_good()));
    }
    if !incoming.is_good() && (!import.good_rows || good == 0) {
        writeln!(
            out,
            "Nothing was taken: {bad} things must be corrected. With --good-rows the other {good} instruments are taken."
        )?;
        return Ok(ExitCode::FAILURE);
    }
    let all = rows(&incoming)?;
    let all = if import.replace { Rows::All(all) } else { Rows::Some(all) };
    let hub = place.hub().await?;
    let by = by(&hub, import.by.as_deref()).await?;
    let (ranges, code) = (incoming.sensor_ranges.len(), code(incoming.is_good()));
    let file = FileHash(Sha256::digest(&bytes).into());
    let taken = changing::import(&hub, by, file, (all, incoming.sensor_ranges)).await?;
    told(out, taken.put)?;
    if taken.sensors {
        writeln!(
            out,
            "The table of {ranges} sensors that could be fitted took the place of the one before."
        )?;
    }
    Ok(code)
}

fn told(out: &mut (dyn Write + Send), put: Put) -> Result<()> {
    let Put { added, changed, moved, removed, same, .. } = put;
    writeln!(
        out,
        "{added} instruments came in, {changed} changed, {moved} went to another area, {removed} were taken out, {same} stayed."
    )?;
    writeln!(out, "Phones get them the next time they send.")?;
    Ok(())
}

/// A register's own file begins with a brace, after any mark and space; no table does.
fn is_json(bytes: &[u8]) -> bool {
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    bytes.iter().find(|byte| !byte.is_ascii_whitespace()) == Some(&b'{')
}

fn rows(incoming: &Incoming) -> Result<Vec<Row>> {
    let rows = incoming.rows.iter().map(|row| {
        let tag = row.instrument.tag.trim().to_owned();
        let bytes = RegisterRow(row.instrument.clone()).encode()?;
        Ok(Row { tag, area: row.area.clone(), bytes })
    });
    rows.collect()
}

fn code(good: bool) -> ExitCode {
    if good { ExitCode::SUCCESS } else { ExitCode::FAILURE }
}
