//! Shows Headmark with the invented utility: `demo/run` calls this.
//!
//! `demo fill FOLDER` makes a phone in a folder, with a technician and the utility's register. `demo visit FOLDER OUT`
//! opens the app on that phone and makes a whole visit by itself, with pictures.

use std::path::Path;

use anyhow::{Result, bail};
use kit::{Core, Phone};

mod tell;
mod visit;

/// Who works with the phone.
const TECHNICIAN: &str = "Asha Verma";

#[tokio::main]
async fn main() -> Result<()> {
    let told: Vec<String> = std::env::args().skip(1).collect();
    let told: Vec<&str> = told.iter().map(String::as_str).collect();
    match told.as_slice() {
        ["fill", folder] => fill(Path::new(folder)),
        ["visit", folder, photo, out] => {
            visit::make(Phone::at(Path::new(folder))?, Path::new(photo), Path::new(out)).await
        }
        _ => bail!("usage: demo fill FOLDER, or demo visit FOLDER PHOTO OUT"),
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
