//! What is done to a picture before a decoder sees it.

use crate::Gray;
use crate::means::{self, Around};

/// Returns the picture scaled so that its longer side has so many pixels: averaged when it shrinks, bilinear when
/// it grows.
pub(crate) fn scaled(picture: &Gray, long: usize) -> Gray {
    let now = picture.long_side().max(1);
    let size = |side: usize| (side * long).div_ceil(now).max(1);
    let (width, height) = (size(picture.width()), size(picture.height()));
    if long < now { shrunk(picture, width, height) } else { grown(picture, width, height) }
}

fn shrunk(picture: &Gray, width: usize, height: usize) -> Gray {
    let edges =
        |count: usize, size: usize| -> Vec<usize> { (0..=count).map(|at| at * size / count).collect() };
    let (xs, ys) = (edges(width, picture.width()), edges(height, picture.height()));
    let mut pixels = Vec::with_capacity(width * height);
    let mut sums = vec![0u32; picture.width()];
    for rows in ys.windows(2) {
        let &[top, bottom] = rows else { continue };
        let rows = (bottom - top).max(1);
        sums.fill(0);
        for row in picture.rows().skip(top).take(rows) {
            sums.iter_mut().zip(row).for_each(|(sum, pixel)| *sum += u32::from(*pixel));
        }
        let parts = |cells: usize| part_of((rows * cells).max(1));
        // Cells are of two widths at most, and a division for each would take longer than all the rest.
        let narrow = (picture.width() / width).max(1);
        let (of_narrow, of_wide) = (parts(narrow), parts(narrow + 1));
        for columns in xs.windows(2) {
            let &[left, right] = columns else { continue };
            let right = right.max(left + 1);
            let total: u32 = sums.get(left..right).unwrap_or(&[]).iter().sum();
            let part = if right - left == narrow { of_narrow } else { of_wide };
            pixels.push(u8::try_from((u64::from(total) * part) >> PART_BITS).unwrap_or(255));
        }
    }
    Gray::new(width, height, pixels).unwrap_or_else(|| picture.clone())
}

/// A part as a whole number of so many bits.
const PART_BITS: u32 = 32;

/// Returns what a sum of so many is to be multiplied by for its mean, rounded up so that a whole mean stays whole.
fn part_of(count: usize) -> u64 {
    (1u64 << PART_BITS).div_ceil(u64::try_from(count).unwrap_or(u64::MAX))
}

#[allow(clippy::cast_precision_loss)] // Pixels: small numbers.
fn grown(picture: &Gray, width: usize, height: usize) -> Gray {
    let (fx, fy) = (picture.width() as f32 / width as f32, picture.height() as f32 / height as f32);
    Gray::from_fn(width, height, |x, y| {
        shade(picture.between((x as f32 + 0.5) * fx, (y as f32 + 0.5) * fy) + 0.5)
    })
}

/// Returns the picture twice as wide, or twice as high: a label seen from far aside becomes square again.
pub(crate) fn stretched(picture: &Gray, wider: bool) -> Gray {
    let (width, height) = (picture.width(), picture.height());
    if wider { grown(picture, width * 2, height) } else { grown(picture, width, height * 2) }
}

/// Returns the picture with shades that stand for ratios of light: a shadow then takes the same from dark and light,
/// and its edge is no more than a step.
pub(crate) fn by_ratio(picture: &Gray) -> Gray {
    /// Below this many shades the sensor's noise is all there is.
    const LEAST: f32 = 8.0;
    let most = libm::log1pf(255.0 / LEAST);
    let mut curve = [0u8; 256];
    for (from, to) in (0u8..=255).zip(curve.iter_mut()) {
        *to = shade(255.0 * libm::log1pf(f32::from(from) / LEAST) / most);
    }
    picture.map(|pixel| curve.get(usize::from(pixel)).copied().unwrap_or(pixel))
}

/// Returns black and white: black where a pixel is darker than the mean around it, by an offset.
pub(crate) fn mean_threshold(picture: &Gray, half: usize, offset: i64) -> Gray {
    changed(picture, half, |pixel, around| {
        let (pixel, count) = (i64::from(pixel) + offset, i64::from(around.count));
        if pixel * count < i64::try_from(around.sum).unwrap_or(i64::MAX) { 0 } else { 255 }
    })
}

/// Returns the picture with its light levelled: each pixel against the mean and spread around it.
pub(crate) fn levelled(picture: &Gray, half: usize) -> Gray {
    /// Below this spread there is nothing but noise, which is not to be made large.
    const LEAST_SPREAD: f32 = 8.0;
    let mut squares = Vec::with_capacity(picture.pixels().len());
    means::each_row(
        picture,
        half,
        |pixel| u64::from(pixel) * u64::from(pixel),
        |_, around| {
            squares.extend(around.map(Around::mean));
        },
    );
    let mut square = squares.iter();
    changed(picture, half, |pixel, around| {
        let mean = around.mean();
        let spread = square.next().map_or(0.0, |square| libm::sqrtf((square - mean * mean).max(0.0)));
        shade(128.0 + (f32::from(pixel) - mean) * 64.0 / spread.max(LEAST_SPREAD))
    })
}

/// Returns the picture blurred over squares of three.
pub(crate) fn blurred(picture: &Gray) -> Gray {
    changed(picture, 1, |_, around| shade(around.mean()))
}

fn changed(picture: &Gray, half: usize, mut change: impl FnMut(u8, Around) -> u8) -> Gray {
    let mut pixels = Vec::with_capacity(picture.pixels().len());
    means::each_row(picture, half, u64::from, |row, around| {
        pixels.extend(row.iter().zip(around).map(|(pixel, around)| change(*pixel, around)));
    });
    picture.with(pixels)
}

#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Held between 0 and 255 first.
fn shade(value: f32) -> u8 {
    value.clamp(0.0, 255.0) as u8
}

/// Returns the picture with dark specks taken out and the rest as it was (`true`), or light ones (`false`).
pub(crate) fn opened(picture: &Gray, dark: bool) -> Gray {
    let take = |picture: &Gray, largest: bool| {
        Gray::from_fn(picture.width(), picture.height(), |x, y| {
            let (x, y) = (isize::try_from(x).unwrap_or(0), isize::try_from(y).unwrap_or(0));
            let around = (-1..=1).flat_map(|dy| (-1..=1).map(move |dx| (dx, dy)));
            let values = around.map(|(dx, dy)| picture.at(x + dx, y + dy));
            if largest { values.max() } else { values.min() }.unwrap_or(255)
        })
    };
    take(&take(picture, dark), !dark)
}

/// Returns the picture with dark and light changed over.
pub(crate) fn inverted(picture: &Gray) -> Gray {
    picture.map(|pixel| 255 - pixel)
}

/// Returns the picture turned by an eighth, on white.
#[allow(clippy::cast_precision_loss, clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Pixels: small numbers.
pub(crate) fn turned(picture: &Gray) -> Gray {
    const HALF: f32 = core::f32::consts::FRAC_1_SQRT_2;
    let (w, h) = (picture.width() as f32, picture.height() as f32);
    let side = libm::ceilf((w + h) * HALF) as usize;
    let middle = side as f32 / 2.0;
    Gray::from_fn(side, side, |x, y| {
        let (dx, dy) = (x as f32 + 0.5 - middle, y as f32 + 0.5 - middle);
        let (sx, sy) = ((dx + dy) * HALF + w / 2.0, (dy - dx) * HALF + h / 2.0);
        let outside = sx < 0.0 || sy < 0.0 || sx >= w || sy >= h;
        if outside { 255 } else { shade(picture.between(sx, sy) + 0.5) }
    })
}

/// Returns the picture sharpened: what a blurred label lost at its edges, put back in part.
pub(crate) fn sharpened(picture: &Gray) -> Gray {
    let soft = blurred(&blurred(picture));
    let sharp = picture.pixels().iter().zip(soft.pixels()).map(|(pixel, soft)| {
        let (pixel, soft) = (i32::from(*pixel), i32::from(*soft));
        u8::try_from((pixel + (pixel - soft) * 2).clamp(0, 255)).unwrap_or(255)
    });
    picture.with(sharp.collect())
}

#[cfg(test)]
mod tests {
    use super::scaled;
    use crate::Gray;

    #[test]
    fn a_picture_made_smaller_shows_the_mean_of_what_was_there() {
        let picture = Gray::from_fn(701, 500, |x, y| u8::try_from((x * 7 + y * 3) % 256).unwrap());
        for long in [700, 533, 400, 350, 64, 7] {
            let small = scaled(&picture, long);
            assert_eq!((small.width(), small.height()), (long, (500 * long).div_ceil(701)));
            for (x, y) in
                [(0, 0), (small.width() / 3, small.height() / 2), (small.width() - 1, small.height() - 1)]
            {
                let within =
                    |at: usize, small: usize, large: usize| at * large / small..(at + 1) * large / small;
                let (xs, ys) = (within(x, small.width(), 701), within(y, small.height(), 500));
                let all: Vec<usize> =
                    ys.flat_map(|y| xs.clone().map(move |x| (x * 7 + y * 3) % 256)).collect();
                let mean = all.iter().sum::<usize>() / all.len();
                assert_eq!(usize::from(small.pixels()[y * small.width() + x]), mean, "{long}: {x} {y}");
            }
        }
    }

    #[test]
    fn an_even_shade_stays_what_it_is_at_any_size() {
        for shade in [0, 1, 100, 254, 255] {
            let picture = Gray::from_fn(913, 611, |_, _| shade);
            for long in [912, 800, 401, 33, 1, 1500] {
                assert!(
                    scaled(&picture, long).pixels().iter().all(|pixel| *pixel == shade),
                    "{shade} {long}"
                );
            }
        }
    }
}
