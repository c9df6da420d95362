//! Photos for finding an instrument, drawn here.

use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};
use tagcode::{Code, Gray, Strength};

/// Labels as they are printed, photographed straight on.
pub(crate) fn photo_of(codes: &[&str]) -> Vec<u8> {
    let pictures: Vec<_> =
        codes.iter().map(|code| Code::of(code, Strength::Medium).unwrap().bitmap(6)).collect();
    photo_beside(&pictures)
}

/// A code of which only the marks for finding it were spared by a brush: in view, and past reading.
pub(crate) fn painted_over() -> Gray {
    const FINE: usize = 6;
    let code = Code::of("https://id.marrowby.example/i/LT-2041", Strength::Quarter).unwrap();
    let (side, last) = (code.side(), code.side() - 9);
    // The one alignment mark of a code of this size has its middle seven modules from the lower right corner.
    let is_aligned = |at: usize| at.abs_diff(side - 7) <= 2;
    Gray::from_fn((side + 8) * FINE, (side + 8) * FINE, |x, y| {
        let module = |at: usize| (at / FINE).checked_sub(4).filter(|at| *at < side);
        let Some((x, y)) = module(x).zip(module(y)) else { return 255 };
        let is_square = (x < 9 && (y < 9 || y >= last)) || (x >= last && y < 9);
        let is_kept = is_square || x == 6 || y == 6 || (is_aligned(x) && is_aligned(y));
        if is_kept && code.dark(x, y) { 0 } else { 255 }
    })
}

/// Pictures beside each other, as a photo's file.
pub(crate) fn photo_beside(pictures: &[Gray]) -> Vec<u8> {
    let width: usize = pictures.iter().map(Gray::width).sum();
    let height = pictures.iter().map(Gray::height).max().unwrap();
    let mut pixels = Vec::with_capacity(width * height);
    for y in 0..height {
        for picture in pictures {
            let row = picture.pixels().chunks(picture.width()).nth(y);
            pixels.extend(row.map_or_else(|| vec![255; picture.width()], <[u8]>::to_vec));
        }
    }
    let mut png = Vec::new();
    let (width, height) = (u32::try_from(width).unwrap(), u32::try_from(height).unwrap());
    PngEncoder::new(&mut png).write_image(&pixels, width, height, ExtendedColorType::L8).unwrap();
    png
}

/// A photo on which there is nothing.
pub(crate) fn blank() -> Vec<u8> {
    let mut png = Vec::new();
    PngEncoder::new(&mut png).write_image(&[200; 64 * 64], 64, 64, ExtendedColorType::L8).unwrap();
    png
}
