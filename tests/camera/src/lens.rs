//! What a lens and a hand do to a picture: softness and motion.

use tagcode::Gray;

/// Returns the picture out of focus by so many pixels (three passes of a box come close to a normal spread).
pub(super) fn soft(picture: &Gray, spread: f32) -> Gray {
    let half = (spread.max(0.0) * 1.0).round() as usize;
    if half == 0 {
        return picture.clone();
    }
    (0..2).fold(picture.clone(), |picture, _| turned_over(&along(&turned_over(&along(&picture, half)), half)))
}

/// Returns the picture moved sideways by so many pixels while it was taken.
pub(super) fn moved(picture: &Gray, pixels: usize) -> Gray {
    if pixels < 2 { picture.clone() } else { along(picture, pixels / 2) }
}

/// The mean over a piece of each row.
fn along(picture: &Gray, half: usize) -> Gray {
    let width = picture.width();
    let mut pixels = Vec::with_capacity(picture.pixels().len());
    for row in picture.pixels().chunks_exact(width) {
        let mut sums = vec![0u32; width + 1];
        for (x, pixel) in row.iter().enumerate() {
            sums[x + 1] = sums[x] + u32::from(*pixel);
        }
        pixels.extend((0..width).map(|x| {
            let (left, right) = (x.saturating_sub(half), (x + half + 1).min(width));
            ((sums[right] - sums[left]) / (right - left) as u32) as u8
        }));
    }
    Gray::new(width, picture.height(), pixels).expect("as many pixels as before")
}

/// Rows become columns.
fn turned_over(picture: &Gray) -> Gray {
    let (width, pixels) = (picture.width(), picture.pixels());
    Gray::from_fn(picture.height(), width, |x, y| pixels[x * width + y])
}
