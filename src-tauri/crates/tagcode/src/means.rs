//! Means over squares, a row at a time: sums of columns roll down the picture, sums along a row roll across it, so
//! that a large square costs no more than a small one.

use crate::Gray;

/// The sum over a square around a pixel, as far as it lies in the picture, and how many pixels that is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Around {
    pub(crate) sum: u64,
    pub(crate) count: u32,
}

impl Around {
    #[allow(clippy::cast_precision_loss)] // Sums of shades: a float's digits are more than enough for a mean.
    pub(crate) fn mean(self) -> f32 {
        self.sum as f32 / self.count as f32
    }
}

/// Goes through a picture row by row with what is around each pixel; `value` says what is summed.
pub(crate) fn each_row(
    picture: &Gray,
    half: usize,
    value: impl Fn(u8) -> u64,
    mut each: impl FnMut(&[u8], &mut dyn Iterator<Item = Around>),
) {
    let (width, height) = (picture.width(), picture.height());
    let mut columns = vec![0u64; width];
    let mut summed = vec![0u64; width + 1];
    let mut entering = picture.rows();
    let mut leaving = picture.rows();
    entering.by_ref().take(half).for_each(|row| add(&mut columns, row, &value));
    for (y, row) in picture.rows().enumerate() {
        if let Some(row) = entering.next() {
            add(&mut columns, row, &value);
        }
        if let Some(row) = (y > half).then(|| leaving.next()).flatten() {
            columns.iter_mut().zip(row).for_each(|(sum, pixel)| *sum -= value(*pixel));
        }
        let rows = (y + half + 1).min(height) - y.saturating_sub(half);
        let mut total = 0;
        for (sum, column) in summed.iter_mut().skip(1).zip(&columns) {
            total += column;
            *sum = total;
        }
        let right = summed.iter().skip((half + 1).min(width)).chain(std::iter::repeat(&total));
        let left = std::iter::repeat_n(&0, half).chain(&summed);
        let mut around = (0..width).zip(right.zip(left)).map(|(x, (right, left))| {
            let count = rows * ((x + half + 1).min(width) - x.saturating_sub(half));
            Around { sum: right - left, count: u32::try_from(count).unwrap_or(u32::MAX) }
        });
        each(row, &mut around);
    }
}

fn add(columns: &mut [u64], row: &[u8], value: impl Fn(u8) -> u64) {
    columns.iter_mut().zip(row).for_each(|(sum, pixel)| *sum += value(*pixel));
}

#[cfg(test)]
mod tests {
    use super::each_row;
    use crate::Gray;

    #[test]
    fn sums_and_counts_are_those_of_going_around_each_pixel() {
        let picture = Gray::from_fn(7, 5, |x, y| u8::try_from(x * 13 + y * 29).unwrap());
        for half in [0, 1, 2, 4, 9] {
            let mut y = 0;
            each_row(&picture, half, u64::from, |_, around| {
                for (x, around) in around.enumerate() {
                    let xs = x.saturating_sub(half)..(x + half + 1).min(7);
                    let ys = y..(y + 2 * half + 1);
                    let ys = ys.filter_map(|y| y.checked_sub(half)).filter(|y| *y < 5);
                    let all: Vec<u64> =
                        ys.flat_map(|y| xs.clone().map(move |x| (x * 13 + y * 29) as u64)).collect();
                    assert_eq!(
                        (around.sum, around.count as usize),
                        (all.iter().sum(), all.len()),
                        "{x} {y} {half}"
                    );
                }
                y += 1;
            });
            assert_eq!(y, 5);
        }
    }
}
