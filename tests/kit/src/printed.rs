//! Labels as they are printed, straight on and without a camera; also one that a brush went over.

use anyhow::{Context, Result};
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};
use tagcode::{Code, Gray, Strength};

/// Pixels of a module.
const FINE: usize = 6;

/// Returns the code of a label.
///
/// # Errors
///
/// When the text is too long for a code.
pub fn printed(text: &str) -> Result<Gray> {
    Ok(Code::of(text, Strength::Medium)?.bitmap(FINE))
}

/// Returns a code of which only the marks for finding it were spared by a brush: in view, and past reading.
///
/// # Errors
///
/// Never, as long as the text fits a code.
pub fn painted_over() -> Result<Gray> {
    let code = Code::of("https://id.marrowby.example/i/LT-2041", Strength::Quarter)?;
    let (side, last) = (code.side(), code.side() - 9);
    // The one alignment mark of a code of this size has its middle seven modules from the lower right corner.
    let is_aligned = |at: usize| at.abs_diff(side - 7) <= 2;
    Ok(Gray::from_fn((side + 8) * FINE, (side + 8) * FINE, |x, y| {
        let module = |at: usize| (at / FINE).checked_sub(4).filter(|at| *at < side);
        let Some((x, y)) = module(x).zip(module(y)) else { return 255 };
        let is_square = (x < 9 && (y < 9 || y >= last)) || (x >= last && y < 9);
        let is_kept = is_square || x == 6 || y == 6 || (is_aligned(x) && is_aligned(y));
        if is_kept && code.dark(x, y) { 0 } else { 255 }
    }))
}

/// Returns a picture file that shows some codes side by side.
///
/// # Errors
///
/// When there is none, or the picture cannot be written.
pub fn side_by_side(pictures: &[Gray]) -> Result<Vec<u8>> {
    let width: usize = pictures.iter().map(Gray::width).sum();
    let height = pictures.iter().map(Gray::height).max().context("no picture is nothing to show")?;
    let mut pixels = Vec::with_capacity(width * height);
    for y in 0..height {
        for picture in pictures {
            let row = picture.pixels().chunks(picture.width()).nth(y);
            pixels.extend(row.map_or_else(|| vec![255; picture.width()], <[u8]>::to_vec));
        }
    }
    let mut png = Vec::new();
    let (width, height) = (u32::try_from(width)?, u32::try_from(height)?);
    PngEncoder::new(&mut png).write_image(&pixels, width, height, ExtendedColorType::L8)?;
    Ok(png)
}
