//! Makes fifty visits and writes them to a folder: `freeze-fifty FOLDER`. It made `tests/suite/wire/fifty-visits` once.
//!
//! Every visit is played through the phone's core as a person would play it, on four instruments, with all kinds of evidence
//! that a round of visits brings, and numbers drawn anew for each. What is kept is what the core signed.

mod days;
mod numbers;

use std::path::Path;
use std::sync::Mutex;

use anyhow::{Context, Result, bail, ensure};
use carried::Chance;
use domain::visit::Step;
use field::host::{HostEntropy, KeyFolder};
use field::{Entropy, NoEntropy, Ports};
use kit::{Core, Hands, Phone};
use record::write_export;

/// The phone's key: public, and good for nothing else.
const SECRET: [u8; 32] = *b"fifty visits of an invented day!";

/// Where chance begins.
const BEGINNING: u64 = 50;

fn main() -> Result<()> {
    let folder = std::env::args().nth(1).context("usage: freeze-fifty FOLDER")?;
    let folders = Phone::new()?;
    let hands = Hands::default();
    let ports = Ports {
        clock: Box::new(hands.clone()),
        keys: Box::new(KeyFolder::at(folders.data().join("keys"))),
        entropy: Box::new(Once(Mutex::new(true))),
    };
    let core = Core::open_with(&folders, ports)?;
    core.prepare("Asha Verma")?;
    let mut chance = Chance::from(BEGINNING);
    let mut signed = 0;
    for _ in 0..400 {
        if signed == 50 {
            break;
        }
        signed += u32::from(visit(&core, &hands, &mut chance)?);
    }
    ensure!(signed == 50, "only {signed} visits could be signed");
    write(&core, Path::new(&folder))
}

/// Makes a visit; says whether it could be signed. A day whose numbers a person would have to explain is given up.
fn visit(core: &Core, hands: &Hands, chance: &mut Chance) -> Result<bool> {
    hands.move_by(i64::try_from(chance.between(55, 26 * 60))? * 60_000);
    let story = days::any(chance)?;
    let played = core.play(&story, Step::Sign).and_then(|id| core.sign(&id, &story));
    if let Err(error) = &played {
        tell(&format!("given up: {} {error}", story.tag))?;
        for draft in core.phone().home()?.drafts {
            core.phone().visit_discard(&draft.id)?;
        }
    }
    Ok(played.is_ok())
}

fn write(core: &Core, folder: &Path) -> Result<()> {
    let key = core.phone().exchange_key()?;
    let log = store::LogId::of(record::Signer::public(&key).log());
    let kept = core.phone().ledger().entries(store::Place { log, seq: store::Seq(1) }, u32::MAX)?;
    let entries: Vec<&[u8]> = kept.iter().map(|entry| entry.entry.bytes.as_slice()).collect();
    if entries.len() != 50 {
        bail!("{} entries came of fifty visits", entries.len());
    }
    std::fs::create_dir_all(folder)?;
    std::fs::write(folder.join("fifty.headmark"), write_export(record::Signer::public(&key), entries)?)?;
    let hex: String = SECRET.iter().map(|byte| format!("{byte:02x}")).collect();
    std::fs::write(folder.join("key.hex"), hex + "\n")?;
    Ok(())
}

fn tell(line: &str) -> Result<()> {
    use std::io::Write as _;
    writeln!(std::io::stdout().lock(), "{line}")?;
    Ok(())
}

/// Chance that gives the secret key first and then the host's.
struct Once(Mutex<bool>);

impl Entropy for Once {
    fn fill(&self, bytes: &mut [u8]) -> Result<(), NoEntropy> {
        let first = std::mem::take(&mut *self.0.lock().unwrap_or_else(std::sync::PoisonError::into_inner));
        if first && bytes.len() == SECRET.len() {
            bytes.copy_from_slice(&SECRET);
            return Ok(());
        }
        HostEntropy.fill(bytes)
    }
}
