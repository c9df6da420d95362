//! `import` of a bundle: records that came by a cable, a card or a mail.

use std::io::Write;
use std::path::Path;
use std::process::ExitCode;

use anyhow::{Context, Result, ensure};
use exchange::{bundle, packed};

use super::arguments::Import;
use super::opened::Place;
use super::verify::outcome;
use crate::Store;
use crate::exchange::{Brought, Taken, bundle_back, take_bundle};
use crate::home::Hub;
use crate::proving::{Proved, prove};

/// How a packed file begins (RFC 8878, 3.1.1).
const PACKED: [u8; 4] = [0x28, 0xb5, 0x2f, 0xfd];
/// The most entries that are named one by one.
const MOST_NAMED: usize = 20;

/// Returns whether a file is packed as bundles are. No table and no register begins so.
pub(super) fn is_bundle(bytes: &[u8]) -> bool {
    bytes.starts_with(&PACKED)
}

pub(super) async fn import_bundle(
    place: &Place,
    import: &Import,
    bytes: &[u8],
    out: &mut (dyn Write + Send),
) -> Result<ExitCode> {
    ensure!(
        import.area.is_none() && !import.good_rows && !import.replace && import.by.is_none(),
        "--area, --good-rows, --replace and --by are for a register, and this file is a bundle of records. Leave them out."
    );
    if import.dry_run {
        return judged(bytes, out);
    }
    let (unpacked, came_whole) = packed::unpack_what_came(bytes, bundle::MOST)?;
    let hub = place.hub().await?;
    let mut brought = take_bundle(&hub, &unpacked).await?;
    brought.cut |= !came_whole;
    told(&brought, out)?;
    if let Some(file) = &import.back {
        write_back(&hub, &brought, file, out).await?;
    }
    let taken = &brought.taken;
    let good = taken.refused.is_empty() && taken.not_entries == 0 && !brought.cut;
    Ok(if good { ExitCode::SUCCESS } else { ExitCode::FAILURE })
}

/// Proves the file and takes nothing.
fn judged(bytes: &[u8], out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let (report, code) = match prove(bytes, None) {
        Proved::Bundle(report) | Proved::Export(report) => (report.to_string(), outcome(&report)),
        Proved::Neither(why) => (format!("{why}\n"), ExitCode::FAILURE),
    };
    write!(out, "{report}")?;
    writeln!(out, "Nothing was taken.")?;
    Ok(code)
}

fn told(brought: &Brought, out: &mut (dyn Write + Send)) -> Result<()> {
    let Taken { new, parked, already, forks, refused, not_entries, .. } = &brought.taken;
    writeln!(out, "{new} records are new and kept; {already} were here already.")?;
    if *parked > 0 {
        writeln!(
            out,
            "{parked} records wait, parked: nobody certified the phones that signed them. They count once these are enrolled; `headmark-hub status` lists their logs."
        )?;
    }
    if *forks > 0 {
        writeln!(
            out,
            "FORK at {forks} places: two records stand where one can. Both are kept; `headmark-hub status` lists them."
        )?;
    }
    for one in refused.iter().take(MOST_NAMED) {
        writeln!(out, "Refused: {}: {}", one.id, why(&one.code))?;
    }
    if let Some(more) = refused.len().checked_sub(MOST_NAMED).filter(|more| *more > 0) {
        writeln!(out, "Refused: {more} more.")?;
    }
    if *not_entries > 0 {
        writeln!(out, "{not_entries} pieces are no records and were left out.")?;
    }
    if brought.cut {
        writeln!(
            out,
            "The file breaks off. What came whole is kept; ask for the file again for the rest. Taking it twice does no harm."
        )?;
    }
    Ok(())
}

/// What a word of the exchange says to a person.
fn why(code: &str) -> &'static str {
    match code {
        "full" => {
            "there is no more room for records of unknown phones. Enrol them, then take the file again."
        }
        "hub.key_missing" => "the key of its log is neither in the file nor here. Ask for the file again.",
        _ => "it does not hold. Ask whoever signed it for the file again.",
    }
}

async fn write_back(
    hub: &Hub<Store>,
    brought: &Brought,
    file: &Path,
    out: &mut (dyn Write + Send),
) -> Result<()> {
    let Some(back) = bundle_back(hub, brought).await? else {
        writeln!(out, "No phone of this hub is in the file, so nothing was written to carry back.")?;
        return Ok(());
    };
    std::fs::write(file, packed::pack(&back.bundle)?).with_context(|| {
        format!("{} could not be written. Check that the disk has space.", file.display())
    })?;
    writeln!(
        out,
        "{} records and {} pages of the register for the phone are in {}. Carry it back; on the phone: Send records, Take in a file.",
        back.entries,
        back.pages,
        file.display()
    )?;
    if brought.of_before {
        writeln!(
            out,
            "The phone knows this hub from before it was restored, so the file holds only the organisation's certificates. Let the phone meet the hub over the network once."
        )?;
    }
    if back.more {
        writeln!(out, "The register goes on. The next file that the phone writes brings the rest.")?;
    }
    Ok(())
}
