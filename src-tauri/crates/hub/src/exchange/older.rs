//! Photos that are too many for one receipt: the older ones go into receipts of their own.
//!
//! The newest receipt names the newest few thousand. A phone that was given each as it came knows of the older ones from
//! before; one that meets the hub in a new epoch does not, and would offer them again for ever. So what the newest receipt
//! leaves out, and no earlier one of this kind has named, is named once, in blocks as large as a receipt holds, the oldest
//! first. A block takes along younger photos that will be left out later, so that there is one block for thousands of photos
//! and not one for each.

use std::collections::BTreeSet;

use bodies::PhotoHash;

/// Returns what receipts are to name beside the newest, which names the first `most`. `here` are all photos that a log names
/// and that are here, the newest first; `named` were named like this before.
pub(super) fn older(
    here: &[PhotoHash],
    named: &BTreeSet<PhotoHash>,
    most: usize,
) -> Vec<BTreeSet<PhotoHash>> {
    let left = here.iter().copied().enumerate().rev().filter(|(_, photo)| !named.contains(photo));
    let mut left = left.peekable();
    let mut blocks = Vec::new();
    while left.peek().is_some_and(|(rank, _)| *rank >= most) {
        blocks.push(left.by_ref().take(most).map(|(_, photo)| photo).collect());
    }
    blocks
}

#[cfg(test)]
mod tests {
    use super::*;

    /// So many photos, the newest first; the oldest is called 0.
    fn here(count: u8) -> Vec<PhotoHash> {
        (0..count).rev().map(|photo| PhotoHash([photo; 32])).collect()
    }

    fn called(blocks: &[BTreeSet<PhotoHash>]) -> Vec<Vec<u8>> {
        blocks.iter().map(|block| block.iter().map(|photo| photo.0[0]).collect()).collect()
    }

    #[test]
    fn what_fits_the_newest_receipt_is_in_no_other() {
        let none: [Vec<u8>; 0] = [];
        assert_eq!(called(&older(&here(0), &BTreeSet::new(), 4)), none);
        assert_eq!(called(&older(&here(4), &BTreeSet::new(), 4)), none);
    }

    #[test]
    fn the_rest_goes_in_blocks_from_the_oldest_on() {
        assert_eq!(called(&older(&here(5), &BTreeSet::new(), 4)), [[0, 1, 2, 3]]);
        assert_eq!(called(&older(&here(9), &BTreeSet::new(), 4)), [[0, 1, 2, 3], [4, 5, 6, 7]]);
    }

    #[test]
    fn each_is_named_once_and_one_that_came_late_is_named_then() {
        let mut named: BTreeSet<PhotoHash> =
            older(&here(5), &BTreeSet::new(), 4).into_iter().flatten().collect();
        assert!(older(&here(8), &named, 4).is_empty(), "all that is left out was named");
        let mut late = here(9);
        named.remove(&late.remove(8));
        assert_eq!(called(&older(&late, &named, 4)), [[4, 5, 6, 7]]);
        named.extend((4..8).map(|photo| PhotoHash([photo; 32])));
        assert_eq!(called(&older(&here(9), &named, 4)), [[0, 8]]);
    }
}
