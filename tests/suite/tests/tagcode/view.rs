//! What the tests look at, and what they say of it.

use tagcode::{Code, Effort, Gray, Reading, Strength, read};

/// What the invented utility's labels say.
pub(crate) const LINK: &str = "https://id.marrowby.example/i/LT-2041";
pub(crate) const OTHER: &str = "https://id.marrowby.example/i/LT-3107";

/// A code with its quiet zone, fine enough for any photograph here.
pub(crate) fn printed(text: &str) -> Gray {
    Code::of(text, Strength::Quarter).unwrap().bitmap(8)
}

/// Two printed codes side by side.
pub(crate) fn beside(left: &Gray, right: &Gray) -> Gray {
    assert_eq!(left.height(), right.height());
    let width = left.width();
    Gray::from_fn(width + right.width(), left.height(), |x, y| {
        let (picture, x) = if x < width { (left, x) } else { (right, x - width) };
        picture.pixels()[y * picture.width() + x]
    })
}

/// Dark and light changed over.
pub(crate) fn negative(picture: &Gray) -> Gray {
    Gray::from_fn(picture.width(), picture.height(), |x, y| 255 - picture.pixels()[y * picture.width() + x])
}

/// As through the back of a pane of glass.
pub(crate) fn mirrored(picture: &Gray) -> Gray {
    let width = picture.width();
    Gray::from_fn(width, picture.height(), |x, y| picture.pixels()[y * width + width - 1 - x])
}

/// Reads with nobody stopping it.
pub(crate) fn seen(picture: &Gray, effort: Effort) -> Reading {
    read(picture, effort, &mut || true)
}

/// The texts of a reading.
pub(crate) fn texts(reading: &Reading) -> Vec<&str> {
    reading.codes.iter().map(|code| code.text.as_str()).collect()
}

/// The middle of a code's corners, as parts of the picture's width and height.
pub(crate) fn middle(reading: &Reading, code: usize, picture: &Gray) -> (f32, f32) {
    let corners = &reading.codes[code].corners;
    let count = corners.len() as f32;
    let x: f32 = corners.iter().map(|corner| corner.x).sum::<f32>() / count;
    let y: f32 = corners.iter().map(|corner| corner.y).sum::<f32>() / count;
    (x / picture.width() as f32, y / picture.height() as f32)
}
