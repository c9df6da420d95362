//! Photos for finding an instrument, drawn here.

use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};
use tagcode::Gray;

/// Labels as they are printed, photographed straight on.
pub(crate) fn photo_of(codes: &[&str]) -> Vec<u8> {
    photo_beside(&codes.iter().map(|code| kit::printed(code).unwrap()).collect::<Vec<_>>())
}

/// A code in view, and past reading.
pub(crate) fn painted_over() -> Gray {
    kit::painted_over().unwrap()
}

/// Pictures beside each other, as a photo's file.
pub(crate) fn photo_beside(pictures: &[Gray]) -> Vec<u8> {
    kit::side_by_side(pictures).unwrap()
}

/// A photo on which there is nothing.
pub(crate) fn blank() -> Vec<u8> {
    let mut png = Vec::new();
    PngEncoder::new(&mut png).write_image(&[200; 64 * 64], 64, 64, ExtendedColorType::L8).unwrap();
    png
}
