//! What `tests/long slowlink` and `tests/long hub` measure with: the phone's side, on the real carrier.
//!
//! - `measure prepare FOLDER` founds a hub, makes the phone of the fifty visits belong to it, and ends both.
//! - `measure send FOLDER ADDRESS` has that phone send its fifty visits to the hub at an address; prints the seconds.
//! - `measure weigh FOLDER` has it send them here, and prints the bytes up and down after the handshake.
//! - `measure documents FOLDER` writes the same visits as JSON documents, for other ways of sending.
//! - `measure load PHONES VISITS` has so many phones send at once; prints the most memory that the hub had.

mod load;

use std::path::{Path, PathBuf};
use std::time::Instant;

use anyhow::{Context, Result, bail, ensure};
use carried::{Hub, Phone, Proxy, fifty};

fn main() -> Result<()> {
    let told: Vec<String> = std::env::args().skip(1).collect();
    let told: Vec<&str> = told.iter().map(String::as_str).collect();
    match told.as_slice() {
        ["prepare", folder] => prepare(Path::new(folder)),
        ["send", folder, address] => send(Path::new(folder), address),
        ["weigh", folder] => weigh(Path::new(folder)),
        ["documents", folder] => documents(Path::new(folder)),
        ["load", phones, visits] => load::load(phones.parse()?, visits.parse()?),
        _ => {
            bail!("usage: measure prepare|weigh|documents FOLDER, send FOLDER ADDRESS, or load PHONES VISITS")
        }
    }
}

fn phone(folder: &Path) -> Result<Phone> {
    Phone::of_fifty(kit::Phone::at(&folder.join("phone"))?)
}

fn prepare(folder: &Path) -> Result<()> {
    let home = folder.join("home");
    std::fs::create_dir_all(&home)?;
    let mut hub = Hub::founded_in(&home)?;
    let by = Proxy::to(hub.at())?;
    let phone = phone(folder)?;
    phone.enrol(&hub, &by)?;
    phone.exchange(&by)?;
    phone.take_fifty(&fifty()?)?;
    // Whoever copies the folder copies all of it.
    phone.store().suspend()?;
    hub.stop()
}

fn send(folder: &Path, address: &str) -> Result<()> {
    let phone = phone(folder)?;
    let begun = Instant::now();
    let sent = phone.exchange_at(address)?;
    let took = begun.elapsed();
    ensure!(sent.sent == 50 && phone.received()?.len() == 50, "not all is there: {sent:?}");
    tell(&format!("{:.3}", took.as_secs_f64()))
}

fn weigh(folder: &Path) -> Result<()> {
    let mut hub = Hub::kept_in(&folder.join("home"))?;
    hub.serve()?;
    let by = Proxy::to(hub.at())?;
    let sent = phone(folder)?.exchange(&by)?;
    ensure!(sent.sent == 50, "not all was sent: {sent:?}");
    let counted = by.counted();
    tell(&format!("{} {}", counted.up_after, counted.down_after))?;
    hub.stop()
}

fn documents(folder: &Path) -> Result<()> {
    std::fs::create_dir_all(folder)?;
    for bytes in fifty()?.entries {
        let entry = record::open(&bytes)?;
        let visit = bodies::Visit::of_entry(&entry)?;
        let head = bytes.len().checked_sub(entry.body.len()).context("an entry shorter than its body")?;
        let signed: String = bytes.iter().take(head).map(|byte| format!("{byte:02x}")).collect();
        let id = format!("visit-{:03}", entry.id.seq.get());
        let document = serde_json::json!({ "_id": id, "signed": signed, "visit": visit.finished });
        let file: PathBuf = folder.join(format!("{id}.json"));
        std::fs::write(file, serde_json::to_vec(&document)?)?;
    }
    Ok(())
}

pub(crate) fn tell(line: &str) -> Result<()> {
    use std::io::Write as _;
    writeln!(std::io::stdout().lock(), "{line}")?;
    Ok(())
}
