//! The photograph: painted metal, the plate lying at an angle, light from one side, and the camera's own faults.

use crate::chance::{at, cloud, rough, step};
use crate::plate::Plate;

/// Twelve megapixels.
pub(crate) const WIDTH: usize = 4000;
/// Height of the photograph.
pub(crate) const HEIGHT: usize = 3000;

/// A place in the photograph.
type Place = (f32, f32);

/// Where a plate hangs, and on what.
pub(crate) struct Scene {
    /// All chance in the picture comes from it.
    pub(crate) chance: u32,
    /// The plate's corners: top left, top right, bottom right, bottom left.
    pub(crate) corners: [Place; 4],
    /// The metal's paint.
    pub(crate) paint: [f32; 3],
}

impl Scene {
    /// Returns the photograph's pixels, three bytes each.
    pub(crate) fn photograph(&self, plate: &Plate) -> Vec<u8> {
        let to_plate = Inverse::of(self.corners);
        let mut light = Vec::with_capacity(WIDTH * HEIGHT * 3);
        for y in 0..HEIGHT {
            for x in 0..WIDTH {
                let place = (x as f32, y as f32);
                let shine = self.light(place);
                light.extend(self.surface(place, to_plate.at(place), plate).map(|c| (c * shine) as u8));
            }
        }
        self.taken(&soft(&light))
    }

    /// Returns the colour at a place before light falls on it.
    fn surface(&self, place: Place, (u, v): Place, plate: &Plate) -> [f32; 3] {
        let ratio = plate.ratio();
        if !(0.0..1.0).contains(&u) || !(0.0..1.0).contains(&v) {
            // The plate's thickness throws a shadow below and to the right.
            let near = (0.0..1.016).contains(&u) && (0.0..1.0 + 0.016 / ratio).contains(&v);
            let metal = self.metal(place);
            return if near { metal.map(|c| c * 0.45) } else { metal };
        }
        if let Some(bolt) = bolt(u, v, ratio) {
            return bolt;
        }
        let shade = plate.shade(u, v);
        let rim = (u.min(1.0 - u)).min(v.min(1.0 - v) * ratio);
        let worn = 1.0 - 0.3 * step(0.012, 0.0, rim) * cloud(self.chance + 3, u * 40.0, v * 40.0);
        [236.0, 230.0, 208.0].map(|c| (18.0 + (c - 18.0) * shade) * worn)
    }

    /// Paint with the roller's structure, chipped to the primer and with rust below the chips.
    fn metal(&self, (x, y): Place) -> [f32; 3] {
        let grain = 0.93 + 0.14 * rough(self.chance + 4, x / 30.0, y / 55.0);
        let chalky = 0.85 + 0.3 * rough(self.chance + 5, x / 900.0, y / 700.0);
        let chip = rough(self.chance + 6, x / 210.0, y / 190.0);
        let streak = rough(self.chance + 6, x / 210.0, (y - 160.0) / 900.0);
        let paint = self.paint.map(|c| c * grain * chalky);
        let rust = [128.0, 74.0, 46.0].map(|c| c * grain);
        let (bare, stained) = (step(0.76, 0.8, chip), 0.5 * step(0.66, 0.85, streak));
        let mix = |from: [f32; 3], to: [f32; 3], part: f32| {
            let [a, b, c] = from;
            let [d, e, f] = to;
            [a + (d - a) * part, b + (e - b) * part, c + (f - c) * part]
        };
        mix(mix(paint, rust, stained), rust, bare)
    }

    /// Low sun from the upper left, a pipe's soft shadow across the picture, and the lens's darker corners.
    fn light(&self, (x, y): Place) -> f32 {
        let (px, py) = (x / WIDTH as f32, y / HEIGHT as f32);
        let side = 1.08 - 0.42 * (px * 0.7 + py * 0.5);
        let lean = 0.35 * (at(self.chance, 1, 1) - 0.5);
        let band = (px + lean * py - 0.62 - 0.1 * at(self.chance, 2, 2)).abs();
        let shadow = 1.0 - 0.38 * step(0.13, 0.07, band);
        let (cx, cy) = (px - 0.5, py - 0.5);
        side * shadow * (1.0 - 0.45 * (cx * cx + cy * cy))
    }

    /// The sensor's noise, coarser than a pixel as a phone's own smoothing leaves it.
    fn taken(&self, clean: &[u8]) -> Vec<u8> {
        let noisy = clean.iter().enumerate().map(|(i, value)| {
            let (x, y) = ((i / 3 % WIDTH) as i32, (i / 3 / WIDTH) as i32);
            let noise = at(self.chance + 7, x / 2, y / 2) + at(self.chance + 8, x, y) - 1.0;
            (f32::from(*value) + noise * 5.0).clamp(0.0, 255.0) as u8
        });
        noisy.collect()
    }
}

/// Two screws hold the plate beside the owner's name.
fn bolt(u: f32, v: f32, ratio: f32) -> Option<[f32; 3]> {
    let far = |x: f32| {
        let (dx, dy) = (u - x, v * ratio - ratio + 0.055);
        ((dx * dx + dy * dy).sqrt(), dx + dy * 1.3, dy - dx)
    };
    let (off, slot, tilt) = [far(0.05), far(0.95)].into_iter().min_by(|a, b| a.0.total_cmp(&b.0))?;
    if off > 0.034 {
        return None;
    }
    let grey = if off > 0.029 {
        55.0
    } else if slot.abs() < 0.007 {
        40.0
    } else {
        150.0 - tilt * 900.0
    };
    Some([grey, grey * 0.98, grey * 0.94])
}

/// From the photograph back to the plate: the projection that takes a square to four corners, turned round.
struct Inverse([f32; 9]);

impl Inverse {
    fn of([(x0, y0), (x1, y1), (x2, y2), (x3, y3)]: [Place; 4]) -> Inverse {
        let (sx, sy) = (x0 - x1 + x2 - x3, y0 - y1 + y2 - y3);
        let (dx1, dx2, dy1, dy2) = (x1 - x2, x3 - x2, y1 - y2, y3 - y2);
        let whole = dx1 * dy2 - dx2 * dy1;
        let (g, h) = ((sx * dy2 - dx2 * sy) / whole, (dx1 * sy - sx * dy1) / whole);
        let (a, b, c) = (x1 - x0 + g * x1, x3 - x0 + h * x3, x0);
        let (d, e, f) = (y1 - y0 + g * y1, y3 - y0 + h * y3, y0);
        Inverse([
            e - f * h,
            c * h - b,
            b * f - c * e,
            f * g - d,
            a - c * g,
            c * d - a * f,
            d * h - e * g,
            b * g - a * h,
            a * e - b * d,
        ])
    }

    fn at(&self, (x, y): Place) -> Place {
        let [a, b, c, d, e, f, g, h, i] = self.0;
        let w = g * x + h * y + i;
        ((a * x + b * y + c) / w, (d * x + e * y + f) / w)
    }
}

/// The lens: each pixel with its neighbours across and down.
fn soft(sharp: &[u8]) -> Vec<u8> {
    let across = smeared(sharp, 3);
    smeared(&across, 3 * WIDTH)
}

fn smeared(values: &[u8], apart: usize) -> Vec<u8> {
    let value = |i: usize| u32::from(values.get(i).copied().unwrap_or(0));
    let last = values.len().saturating_sub(1);
    (0..values.len())
        .map(|i| {
            let (before, after) = (i.checked_sub(apart).unwrap_or(i), i + apart);
            let after = if after > last { i } else { after };
            ((value(before) + 2 * value(i) + value(after)) / 4) as u8
        })
        .collect()
}
