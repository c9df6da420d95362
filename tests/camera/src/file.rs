//! Pictures as files.

use image::codecs::jpeg::JpegEncoder;
use image::codecs::png::PngEncoder;
use image::{ExtendedColorType, ImageEncoder};
use tagcode::Gray;

/// Returns a picture as a JPEG file in warm colours, at a quality of 1 to 100.
#[must_use]
pub fn jpeg(picture: &Gray, quality: u8) -> Vec<u8> {
    let tint =
        |pixel: &u8| [*pixel, (u16::from(*pixel) * 248 / 255) as u8, (u16::from(*pixel) * 232 / 255) as u8];
    let colours: Vec<u8> = picture.pixels().iter().flat_map(tint).collect();
    let mut file = Vec::new();
    let size = (picture.width() as u32, picture.height() as u32);
    let encoder = JpegEncoder::new_with_quality(&mut file, quality);
    encoder
        .write_image(&colours, size.0, size.1, ExtendedColorType::Rgb8)
        .expect("a picture that fits a JPEG");
    file
}

/// Returns a JPEG file of a phone held another way up: the picture lies turned in the file, and an orientation of 1
/// to 8 (EXIF 2.32, tag 274) tells how to put it upright again.
#[must_use]
pub fn jpeg_turned(picture: &Gray, quality: u8, orientation: u16) -> Vec<u8> {
    let file = jpeg(&lying(picture, orientation), quality);
    // A TIFF header in the byte order of Motorola, one directory with one entry: orientation, a short, once.
    let mut exif = b"Exif\0\0MM\0\x2a\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01".to_vec();
    exif.extend(orientation.to_be_bytes());
    exif.extend([0, 0, 0, 0, 0, 0]);
    let length = (exif.len() + 2) as u16;
    let mut turned = file[..2].to_vec();
    turned.extend([0xFF, 0xE1]);
    turned.extend(length.to_be_bytes());
    turned.extend(exif);
    turned.extend(&file[2..]);
    turned
}

/// Returns how an upright picture lies in a file of an orientation: where the file's first row and column are, in the
/// words of EXIF, is what each arm says.
fn lying(picture: &Gray, orientation: u16) -> Gray {
    let (w, h) = (picture.width(), picture.height());
    let at = |x: usize, y: usize| picture.pixels()[y * w + x];
    match orientation {
        // Row 0 is the top, column 0 the right.
        2 => Gray::from_fn(w, h, |x, y| at(w - 1 - x, y)),
        // The bottom, the right.
        3 => Gray::from_fn(w, h, |x, y| at(w - 1 - x, h - 1 - y)),
        // The bottom, the left.
        4 => Gray::from_fn(w, h, |x, y| at(x, h - 1 - y)),
        // The left, the top.
        5 => Gray::from_fn(h, w, |x, y| at(y, x)),
        // The right, the top.
        6 => Gray::from_fn(h, w, |x, y| at(w - 1 - y, x)),
        // The right, the bottom.
        7 => Gray::from_fn(h, w, |x, y| at(w - 1 - y, h - 1 - x)),
        // The left, the bottom.
        8 => Gray::from_fn(h, w, |x, y| at(y, h - 1 - x)),
        _ => picture.clone(),
    }
}

/// Returns a picture as a PNG file.
#[must_use]
pub fn png(picture: &Gray) -> Vec<u8> {
    let mut file = Vec::new();
    let size = (picture.width() as u32, picture.height() as u32);
    let encoder = PngEncoder::new(&mut file);
    encoder
        .write_image(picture.pixels(), size.0, size.1, ExtendedColorType::L8)
        .expect("a picture that fits a PNG");
    file
}
