//! A phone whose storage is full to the last bytes.

use anyhow::{Result, bail};
use domain::visit::Key;
use field::view::Change;

use crate::{Core, Phone};

/// Lengths of text, longest first: when one no longer fits, a shorter one still may.
const LENGTHS: [usize; 4] = [1900, 400, 80, 20];

/// More reasons than any safety list has items, and fewer than a visit may have rows.
const REASONS: u32 = 15;

impl Phone {
    /// Fills the storage: the data file may not grow any more, and a visit that stands open is given answers until
    /// not even a few words fit.
    ///
    /// # Errors
    ///
    /// What the core says other than that the storage is full, or that it did not fill.
    pub fn fill(&mut self, visit: &str) -> Result<()> {
        self.grow_no_more()?;
        let core = Core::open(self)?;
        for row in 0..REASONS {
            if !takes_a_reason(&core, visit, row)? {
                return Ok(());
            }
        }
        bail!("the storage did not fill")
    }

    /// Frees the storage again.
    pub fn free(&mut self) {
        self.forget_limit();
    }
}

fn takes_a_reason(core: &Core, visit: &str, row: u32) -> Result<bool> {
    for length in LENGTHS {
        let text = "x".repeat(length);
        let change = Change::Answer { key: Key::SafetyReason, piece: 0, row, text };
        match core.phone().visit_change(visit, &change) {
            Ok(_) => return Ok(true),
            Err(error) if error.code() == "store.full" => {}
            Err(error) => return Err(error.into()),
        }
    }
    Ok(false)
}
