//! A photo file as an upright picture in shades of gray.

use std::io::Cursor;

use exif::{In, Tag};
use image::{ImageDecoder, ImageFormat, ImageReader, Limits};
use thiserror::Error;

use crate::Gray;

/// The most pixels a photo may have.
pub const MOST_PIXELS: u64 = 64_000_000;
/// The most memory a photo may take when decoded.
pub const MOST_BYTES: u64 = 256 * 1024 * 1024;

/// Why a file is no usable photo.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum PhotoError {
    /// Neither JPEG nor PNG.
    #[error(
        "This file is not a photo that can be read here. Take a photo of the label, or choose a JPEG or PNG file."
    )]
    NotAPhoto,
    /// Too many pixels.
    #[error(
        "The photo is {width} by {height} pixels; at most 64 million pixels are taken. Take it at a lower resolution."
    )]
    TooLarge {
        /// Width in pixels.
        width: u32,
        /// Height in pixels.
        height: u32,
    },
    /// Cut short or damaged.
    #[error("The photo is damaged or cut short. Take it again.")]
    Damaged,
}

/// Decodes a JPEG or PNG file, told apart by its content, and turns it upright by its EXIF orientation.
///
/// The size is read and judged before anything is decoded.
///
/// # Errors
///
/// [`PhotoError`], each with what to do next.
pub fn decode(bytes: &[u8]) -> Result<Gray, PhotoError> {
    let format = match image::guess_format(bytes) {
        Ok(format @ (ImageFormat::Jpeg | ImageFormat::Png)) => format,
        _ => return Err(PhotoError::NotAPhoto),
    };
    let decoder = ImageReader::with_format(Cursor::new(bytes), format).into_decoder();
    let mut decoder = decoder.map_err(|_| PhotoError::Damaged)?;
    let (width, height) = decoder.dimensions();
    if u64::from(width) * u64::from(height) > MOST_PIXELS || decoder.total_bytes() > MOST_BYTES {
        return Err(PhotoError::TooLarge { width, height });
    }
    let mut limits = Limits::default();
    limits.max_alloc = Some(MOST_BYTES);
    decoder.set_limits(limits).map_err(|_| PhotoError::TooLarge { width, height })?;
    let picture = image::DynamicImage::from_decoder(decoder).map_err(|_| PhotoError::Damaged)?;
    // Shades first: a third of the bytes to turn.
    let shades = image::DynamicImage::ImageLuma8(picture.into_luma8());
    let upright = turned(&shades, orientation(bytes)).into_luma8();
    let (width, height) = (upright.width() as usize, upright.height() as usize);
    Gray::new(width, height, upright.into_raw()).ok_or(PhotoError::Damaged)
}

/// Returns the EXIF orientation, 1 to 8; 1 where there is none.
fn orientation(bytes: &[u8]) -> u32 {
    let data = exif::Reader::new().read_from_container(&mut Cursor::new(bytes));
    let field = data.ok().and_then(|data| data.get_field(Tag::Orientation, In::PRIMARY)?.value.get_uint(0));
    field.filter(|value| (1..=8).contains(value)).unwrap_or(1)
}

/// Undoes an EXIF orientation.
fn turned(picture: &image::DynamicImage, orientation: u32) -> image::DynamicImage {
    match orientation {
        2 => picture.fliph(),
        3 => picture.rotate180(),
        4 => picture.flipv(),
        5 => picture.rotate90().fliph(),
        6 => picture.rotate90(),
        7 => picture.rotate270().fliph(),
        8 => picture.rotate270(),
        _ => picture.clone(),
    }
}
