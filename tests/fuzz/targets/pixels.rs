//! A picture of any shades: reading it ends, and a code that was read has a text that may be shown.
//!
//! The picture is small and its effort that of a camera frame: what is tried is the decoders, not their number.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tagcode::{Effort, Gray, read, safe_text};

fuzz_target!(|bytes: &[u8]| {
    let Some((&side, shades)) = bytes.split_first() else { return };
    let width = usize::from(side % 96) + 1;
    let height = shades.len() / width;
    let Some(picture) = Gray::new(width, height, shades.iter().copied().take(width * height).collect())
    else {
        return;
    };
    for found in read(&picture, Effort::Frame, &mut || true).codes {
        assert!(!safe_text(&found.text).chars().any(|letter| letter.is_control()));
    }
});
