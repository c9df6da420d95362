//! From a fitted grid to dark and light modules.

use super::grid::Grid;
use crate::Gray;

/// Returns several readings of a grid's modules, row by row, true for dark: which shade still counts as dark is a
/// question of the light around, of the blur, or of both.
pub(super) fn readings<'a>(
    picture: &'a Gray,
    level: &'a Gray,
    grid: &'a Grid,
) -> impl Iterator<Item = Vec<bool>> + 'a {
    let side = grid.side();
    let levelled =
        std::iter::once_with(move || shades(level, grid).iter().map(|shade| *shade < 128.0).collect());
    let near = std::iter::once_with(move || darker_than_around(&shades(picture, grid), side, 4));
    let sharp =
        std::iter::once_with(move || darker_than_around(&sharpened(&shades(picture, grid), side), side, 3));
    let wide = std::iter::once_with(move || darker_than_around(&shades(picture, grid), side, 9));
    levelled.chain(near).chain(sharp).chain(wide)
}

/// The mean shade of each module's inner part.
#[allow(clippy::cast_precision_loss)] // A code has at most 177 modules.
fn shades(picture: &Gray, grid: &Grid) -> Vec<f32> {
    const INNER: [(f32, f32); 5] = [(0.5, 0.5), (0.3, 0.3), (0.7, 0.3), (0.3, 0.7), (0.7, 0.7)];
    let side = grid.side();
    let mut shades = Vec::with_capacity(side * side);
    for y in 0..side {
        for x in 0..side {
            let sum: f32 = INNER
                .iter()
                .map(|(dx, dy)| {
                    let (px, py) = grid.at(x as f32 + dx, y as f32 + dy);
                    picture.between(px, py)
                })
                .sum();
            shades.push(sum / INNER.len() as f32);
        }
    }
    shades
}

/// Takes out of each module what its four neighbours blurred into it.
fn sharpened(shades: &[f32], side: usize) -> Vec<f32> {
    const SHARE: f32 = 0.25;
    let sharp = shades.iter().enumerate().map(|(at, shade)| {
        let (x, y) = (at % side, at / side);
        let beside = [
            (x + 1 < side).then(|| at + 1),
            (x > 0).then(|| at.wrapping_sub(1)),
            (y > 0).then(|| at.wrapping_sub(side)),
            Some(at + side),
        ];
        let beside = beside.into_iter().flatten().filter_map(|at| shades.get(at));
        shade + beside.map(|other| (shade - other) * SHARE).sum::<f32>()
    });
    sharp.collect()
}

/// Dark is what is darker than the middle between the darkest and the lightest third around it.
#[allow(clippy::cast_precision_loss)] // A code has at most 177 modules.
fn darker_than_around(shades: &[f32], side: usize, half: usize) -> Vec<bool> {
    let around = |x: usize, y: usize| {
        let columns = x.saturating_sub(half)..(x + half + 1).min(side);
        let rows = y.saturating_sub(half)..(y + half + 1).min(side);
        let (mut sum, mut count) = (0.0, 0.0f32);
        for row in rows {
            let row = shades.get(row * side + columns.start..row * side + columns.end).unwrap_or(&[]);
            sum += row.iter().sum::<f32>();
            count += row.len() as f32;
        }
        sum / count.max(1.0)
    };
    shades.iter().enumerate().map(|(at, shade)| *shade < around(at % side, at / side)).collect()
}
