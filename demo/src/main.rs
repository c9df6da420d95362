//! Shows Headmark with the invented utility: `demo/run` calls this.
//!
//! `demo fill FOLDER` makes a phone in a folder, with a technician and the utility's register. `demo visit FOLDER PHOTO OUT`
//! opens the app on that phone and makes a whole visit by itself, with pictures; then it starts the utility's hub, makes
//! the phone belong to it, and sends the visit there. `demo show FOLDER OUT` starts the hub, makes the phone belong to it,
//! and opens the app for a person; it calls `demo enrol FOLDER OUT` for the second of these.

use std::path::Path;

use anyhow::{Result, bail};
use kit::{Core, Phone};

mod send;
mod show;
mod tell;
mod visit;

/// Who works with the phone.
pub(crate) const TECHNICIAN: &str = "Asha Verma";
/// What the hub calls the phone.
pub(crate) const PHONE: &str = "demo phone";

#[tokio::main]
async fn main() -> Result<()> {
    let told: Vec<String> = std::env::args().skip(1).collect();
    let told: Vec<&str> = told.iter().map(String::as_str).collect();
    match told.as_slice() {
        ["fill", folder] => fill(Path::new(folder)),
        ["visit", folder, photo, out] => {
            let phone = Phone::at(Path::new(folder))?;
            visit::make(phone, Path::new(photo), Path::new(out)).await
        }
        ["show", folder, out] => show::show(Path::new(folder), Path::new(out)),
        ["enrol", folder, out] => show::enrol(Path::new(folder), Path::new(out)).await,
        _ => bail!("usage: demo fill FOLDER, demo visit FOLDER PHOTO OUT, or demo show FOLDER OUT"),
    }
}

fn fill(folder: &Path) -> Result<()> {
    let core = Core::open(&Phone::at(folder)?)?;
    core.prepare(TECHNICIAN)?;
    let home = core.phone().home()?;
    tell::line(
        "phone",
        &format!("{}, {} instruments of {}", home.technician, home.instruments, home.register),
    )
}
