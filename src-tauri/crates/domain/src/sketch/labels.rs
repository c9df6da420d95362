//! Labels that do not sit on each other: each keeps its order and moves as little as it must.

use super::{Role, Shape};

/// A label that wants to stand at a height.
pub(super) struct Label {
    /// Where it wants its middle.
    pub(super) at: f64,
    /// The words.
    pub(super) text: String,
    /// What it names.
    pub(super) role: Role,
}

/// Distance kept between two labels' middles, in drawing units (the text is 14 high).
const APART: f64 = 18.0;

/// Returns where each label's middle may stand, in the order given by height, between `top` and `bottom`.
fn places(wanted: &[f64], top: f64, bottom: f64) -> Vec<f64> {
    let mut placed: Vec<f64> = Vec::with_capacity(wanted.len());
    let mut least = top;
    for want in wanted {
        let at = want.max(least);
        placed.push(at);
        least = at + APART;
    }
    // What was pushed past the bottom is taken up again from the last one.
    let mut most = bottom;
    for at in placed.iter_mut().rev() {
        *at = at.min(most);
        most = *at - APART;
    }
    placed
}

/// Draws labels down the right side, each with a leader from its true height.
pub(super) fn column(mut labels: Vec<Label>, from_x: f64, x: f64, top: f64, bottom: f64) -> Vec<Shape> {
    labels.sort_by(|one, other| one.at.total_cmp(&other.at));
    let wanted: Vec<f64> = labels.iter().map(|label| label.at).collect();
    let mut shapes = Vec::with_capacity(labels.len() * 2);
    for (label, y) in labels.into_iter().zip(places(&wanted, top, bottom)) {
        shapes.push(Shape::Line { role: label.role, x1: from_x, y1: label.at, x2: x - 4.0, y2: y });
        shapes.push(Shape::Text {
            role: Role::Label,
            x,
            y: y + 5.0,
            anchor: "start".into(),
            text: label.text,
        });
    }
    shapes
}

#[cfg(test)]
mod tests {
    use super::{APART, places};

    #[test]
    fn labels_keep_their_order_and_their_distance() {
        let placed = places(&[10.0, 12.0, 13.0, 300.0], 0.0, 400.0);
        for pair in placed.windows(2) {
            assert!(pair[1] - pair[0] >= APART - 1e-9, "{placed:?}");
        }
        assert!((placed[3] - 300.0).abs() < 1e-9);
    }

    #[test]
    fn labels_stay_on_the_sheet() {
        let placed = places(&[390.0, 395.0, 399.0], 0.0, 400.0);
        assert!(placed.iter().all(|at| *at <= 400.0));
        assert!(placed[1] - placed[0] >= APART - 1e-9);
    }
}
