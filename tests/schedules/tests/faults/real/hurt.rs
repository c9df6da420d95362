//! Damage to a data file.

use crate::chance::Chance;

const PAGE: usize = 4096;

/// Overwrites some pages of a file, or cuts it short.
pub fn hurt(file: &mut Vec<u8>, chance: &mut Chance) {
    let pages = file.len() / PAGE;
    if pages == 0 {
        // All of it is in the write-ahead log yet.
        return;
    }
    if chance.percent(20) {
        file.truncate((1 + chance.below(pages)) * PAGE);
        return;
    }
    for _ in 0..=chance.below(3) {
        let at = chance.below(pages) * PAGE;
        let other = chance.below(pages) * PAGE;
        match chance.below(4) {
            0 => file[at..at + PAGE].fill(0),
            1 => file.copy_within(other..other + PAGE, at),
            2 => {
                let sector = at + 512 * chance.below(8);
                file[sector..sector + 512].fill(0);
            }
            _ => file[at..at + PAGE].iter_mut().for_each(|byte| *byte = chance.bits() as u8),
        }
    }
}
