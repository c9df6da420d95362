//! A thousand visits on one phone, closed and opened between: nothing grows that should not, and every record can
//! still be found and checked.

use anyhow::{Result, ensure};
use domain::visit::Step;
use kit::{Core, Phone};

const VISITS: usize = 1000;
const VISITS_A_DAY: usize = 25;

#[test]
#[ignore = "takes minutes: tests/long soak"]
fn a_thousand_visits() -> Result<()> {
    let phone = Phone::new()?;
    Core::open(&phone)?.prepare("Asha Verma")?;
    let stories = [kit::dip(), kit::known_empty(), kit::cleared_riser(), kit::vented()];
    let mut signed = Vec::new();
    while signed.len() < VISITS {
        let core = Core::open(&phone)?;
        for _ in 0..VISITS_A_DAY {
            let story = &stories[signed.len() % stories.len()];
            let id = core.play(story, Step::Sign)?;
            signed.push(core.sign(&id, story)?.id);
        }
    }

    let core = Core::open(&phone)?;
    let home = core.phone().home()?;
    ensure!(home.drafts.is_empty(), "{} drafts are left over", home.drafts.len());
    for (at, id) in signed.iter().enumerate() {
        let record = core.phone().record(id)?;
        ensure!(record.tag == stories[at % stories.len()].tag, "{id} is another visit's record");
        ensure!(record.proof.contains("checked"), "{id}: {}", record.proof);
    }
    let bytes = std::fs::metadata(phone.data().join("headmark.db"))?.len();
    println!("soak: {} records, {} bytes of data file a record", signed.len(), bytes / signed.len() as u64);
    ensure!(bytes / (signed.len() as u64) < 64 * 1024, "a record takes {bytes} bytes");
    Ok(())
}
