//! Where a flat thing in front of the camera lands in the picture.

/// A flat thing, turned in space, seen through a lens.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placing {
    focus: f32,
    middle: (f32, f32),
    place: [f32; 3],
    across: [f32; 3],
    down: [f32; 3],
    normal: [f32; 3],
}

fn dot(a: [f32; 3], b: [f32; 3]) -> f32 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

impl Placing {
    /// Places a thing at a picture's point, so many pixels wide if it faced the camera, turned in degrees: about the
    /// lens's axis, about the upright, and about the level.
    pub(super) fn new(picture: (usize, usize), at: (f32, f32), size: f32, turns: [f32; 3]) -> Placing {
        let middle = (picture.0 as f32 / 2.0, picture.1 as f32 / 2.0);
        // A phone's main lens sees about 65 degrees over the long side.
        let focus = picture.0.max(picture.1) as f32 * 0.8;
        let [roll, yaw, pitch] = turns.map(f32::to_radians);
        let turn = |[x, y, z]: [f32; 3]| {
            let (x, y) = (x * roll.cos() - y * roll.sin(), x * roll.sin() + y * roll.cos());
            let (x, z) = (x * yaw.cos() + z * yaw.sin(), z * yaw.cos() - x * yaw.sin());
            [x, y * pitch.cos() - z * pitch.sin(), y * pitch.sin() + z * pitch.cos()]
        };
        let scale = |v: [f32; 3]| v.map(|part| part / size);
        Placing {
            focus,
            middle,
            place: [at.0 - middle.0, at.1 - middle.1, focus],
            across: scale(turn([1.0, 0.0, 0.0])),
            down: scale(turn([0.0, 1.0, 0.0])),
            normal: turn([0.0, 0.0, 1.0]),
        }
    }

    /// Returns where on the thing a point of the picture lies, in widths of the thing from its middle.
    pub(super) fn seen(&self, x: f32, y: f32) -> Option<(f32, f32)> {
        let ray = [x - self.middle.0, y - self.middle.1, self.focus];
        let facing = dot(self.normal, ray);
        if facing.abs() < 1e-6 {
            return None;
        }
        let far = dot(self.normal, self.place) / facing;
        let from = [ray[0] * far - self.place[0], ray[1] * far - self.place[1], ray[2] * far - self.place[2]];
        (far > 0.0).then(|| (dot(from, self.across), dot(from, self.down)))
    }
}
