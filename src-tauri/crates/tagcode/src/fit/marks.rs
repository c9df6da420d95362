//! What every code of a size has at the same places (ISO/IEC 18004): corner squares, timing lines, alignment marks.

use rxing::qrcode::common::Version;

/// A module whose shade is known beforehand: its middle in modules, and 1 for light, -1 for dark.
#[derive(Debug, Clone, Copy)]
pub(super) struct Mark {
    pub(super) x: f32,
    pub(super) y: f32,
    pub(super) sign: f32,
}

/// Returns the marks of a size; none where there is no such size.
pub(super) fn of(side: usize) -> Vec<Mark> {
    let Some(number) =
        side.checked_sub(17).map(|steps| steps / 4).and_then(|number| u32::try_from(number).ok())
    else {
        return Vec::new();
    };
    let Ok(version) = Version::getVersionForNumber(number) else { return Vec::new() };
    let centres: Vec<usize> = version.getAlignmentPatternCenters().iter().map(|at| *at as usize).collect();
    let mut marks = Vec::new();
    for y in 0..side {
        for x in 0..side {
            if let Some(dark) = known(side, &centres, x, y) {
                #[allow(clippy::cast_precision_loss)] // A code has at most 177 modules.
                marks.push(Mark {
                    x: x as f32 + 0.5,
                    y: y as f32 + 0.5,
                    sign: if dark { -1.0 } else { 1.0 },
                });
            }
        }
    }
    marks
}

fn known(side: usize, centres: &[usize], x: usize, y: usize) -> Option<bool> {
    let (right, lower) = (x + 8 >= side, y + 8 >= side);
    match (x < 8, right, y < 8, lower) {
        (true, _, true, _) => return Some(square(x.abs_diff(3).max(y.abs_diff(3)))),
        (_, true, true, _) => return Some(square(x.abs_diff(side - 4).max(y.abs_diff(3)))),
        (true, _, _, true) => return Some(square(x.abs_diff(3).max(y.abs_diff(side - 4)))),
        _ => {}
    }
    for &cy in centres {
        for &cx in centres {
            let in_square = (cx < 8 && (cy < 8 || cy + 8 >= side)) || (cx + 8 >= side && cy < 8);
            let ring = x.abs_diff(cx).max(y.abs_diff(cy));
            if !in_square && ring <= 2 {
                return Some(ring != 1);
            }
        }
    }
    (x == 6 || y == 6).then_some((x + y).is_multiple_of(2))
}

/// Dark in the middle and in the ring at three, light between and around.
fn square(ring: usize) -> bool {
    ring != 2 && ring < 4
}

#[cfg(test)]
mod tests {
    use super::of;
    use crate::{Code, Strength};

    /// Against the drawing side's own codes, whatever they hold.
    #[test]
    fn marks_are_where_drawn_codes_have_them() {
        for length in [5, 40, 100, 180, 400, 900] {
            let code = Code::of(&"x".repeat(length), Strength::Medium).unwrap();
            let marks = of(code.side());
            assert!(marks.len() > 200);
            for mark in marks {
                let (x, y) = (mark.x as usize, mark.y as usize);
                assert_eq!(code.dark(x, y), mark.sign < 0.0, "{x} {y} of {}", code.side());
            }
        }
    }
}
