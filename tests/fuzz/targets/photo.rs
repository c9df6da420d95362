//! A photo file from anywhere: refused, or a picture within the limits with a shade for each pixel.
#![no_main]

use libfuzzer_sys::fuzz_target;
use tagcode::photo::{MOST_PIXELS, decode};

fuzz_target!(|file: &[u8]| {
    match decode(file) {
        Ok(picture) => {
            assert!((picture.width() * picture.height()) as u64 <= MOST_PIXELS);
            assert_eq!(picture.pixels().len(), picture.width() * picture.height());
        }
        Err(error) => assert!(!error.to_string().is_empty()),
    }
});
