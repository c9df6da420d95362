use tagcode::Gray;

use super::placing::Placing;
use super::{Chance, lens};

/// How a scene is lit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Light {
    /// What white shows as, from 0 to 255, where the light is best.
    pub best: f32,
    /// What black shows as.
    pub least: f32,
    /// How much of the light is lost from the upper left to the lower right corner, from 0 to 1.
    pub falls: f32,
    /// How dark the shadow of a pipe across the label is, from 0 to 1.
    pub shadow: f32,
    /// How strong the sun's reflection near the label's middle is, from 0 to 1.
    pub glare: f32,
}

impl Light {
    /// An even day.
    pub const DAY: Light = Light { best: 225.0, least: 25.0, falls: 0.15, shadow: 0.0, glare: 0.0 };
    /// The sun is down.
    pub const DUSK: Light = Light { best: 62.0, least: 22.0, falls: 0.4, shadow: 0.0, glare: 0.0 };
}

/// A label before a camera.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// Width and height of the picture.
    pub size: (usize, usize),
    /// Where the label's middle is, as parts of width and height.
    pub at: (f32, f32),
    /// How wide the label would be if it faced the camera, as part of the picture's shorter side.
    pub wide: f32,
    /// Degrees about the lens's axis, about the upright, about the level.
    pub turns: [f32; 3],
    /// The light.
    pub light: Light,
    /// Pixels out of focus.
    pub soft: f32,
    /// Pixels moved sideways.
    pub moved: usize,
    /// Spread of the sensor's noise, in shades.
    pub noise: f32,
    /// Part of the label's width hidden by something in front of its lower right.
    pub hidden: f32,
    /// Where chance begins.
    pub beginning: u64,
}

impl Scene {
    /// A label held well, in a picture of so many pixels.
    #[must_use]
    pub fn clear(width: usize, height: usize) -> Scene {
        Scene {
            size: (width, height),
            at: (0.5, 0.5),
            wide: 0.6,
            turns: [0.0; 3],
            light: Light::DAY,
            soft: 0.0,
            moved: 0,
            noise: 1.5,
            hidden: 0.0,
            beginning: 1,
        }
    }

    /// Returns the photograph of a label, or of the bare cabinet where there is none.
    #[must_use]
    pub fn shot(&self, label: Option<&Gray>) -> Gray {
        let chance = &mut Chance::from(self.beginning);
        let wall = Wall::of(chance);
        let (width, height) = self.size;
        let at = (self.at.0 * width as f32, self.at.1 * height as f32);
        let placing = Placing::new(self.size, at, self.wide * width.min(height) as f32, self.turns);
        let fine = label
            .map_or(1, |label| (label.width() as f32 / self.wide / width.min(height) as f32).ceil() as usize);
        let fine = fine.clamp(1, 4);
        let sharp = Gray::from_fn(width, height, |x, y| {
            // The wall has nothing finer than a pixel; a printed code does.
            let (u, v) = placing.seen(x as f32 + 0.5, y as f32 + 0.5).unwrap_or((1e3, 1e3));
            let fine = if u.abs().max(v.abs()) < 0.8 { fine } else { 1 };
            let mut sum = 0.0;
            for part in 0..fine * fine {
                let within = |at: usize| (at as f32 + 0.5) / fine as f32;
                sum += self.shade(
                    label,
                    &placing,
                    &wall,
                    x as f32 + within(part % fine),
                    y as f32 + within(part / fine),
                );
            }
            (sum / (fine * fine) as f32).clamp(0.0, 255.0) as u8
        });
        let seen = lens::moved(&lens::soft(&sharp, self.soft), self.moved);
        if self.noise > 0.0 { grainy(&seen, self.noise, chance) } else { seen }
    }

    /// What comes into the lens from one direction.
    fn shade(&self, label: Option<&Gray>, placing: &Placing, wall: &Wall, x: f32, y: f32) -> f32 {
        let (u, v) = placing.seen(x, y).unwrap_or((1e3, 1e3));
        let own = label.and_then(|label| on(label, u, v));
        let hidden = self.hidden > 0.0 && u > 0.5 - self.hidden && v > 0.0;
        let reflected = match own {
            Some(own) if !hidden => own,
            _ => wall.at(u, v),
        };
        let light = self.light;
        let far = (x / self.size.0 as f32 + y / self.size.1 as f32) / 2.0;
        let mut lit = 1.0 - light.falls * far;
        if (u * 0.8 + v * 0.6 - 0.05).abs() < 0.12 {
            lit *= 1.0 - light.shadow;
        }
        let glare = match light.glare {
            glare if glare > 0.0 => glare * (-((u - 0.12).powi(2) + (v - 0.1).powi(2)) * 60.0).exp(),
            _ => 0.0,
        };
        (light.least + (light.best - light.least) * reflected) * lit + 255.0 * glare
    }
}

/// What of the light a label gives back at a place in widths from its middle, between its pixels.
fn on(label: &Gray, u: f32, v: f32) -> Option<f32> {
    let (width, height) = (label.width() as f32, label.height() as f32);
    let (x, y) = ((u + 0.5) * width, v * width + height / 2.0);
    if x < 0.0 || y < 0.0 || x >= width || y >= height {
        return None;
    }
    let (x, y) = (x - 0.5, y - 0.5);
    let (left, top) = (x.floor(), y.floor());
    let at = |dx: isize, dy: isize| f32::from(label.at(left as isize + dx, top as isize + dy));
    let upper = at(0, 0) + (at(1, 0) - at(0, 0)) * (x - left);
    let lower = at(0, 1) + (at(1, 1) - at(0, 1)) * (x - left);
    Some((upper + (lower - upper) * (y - top)) / 255.0)
}

fn grainy(picture: &Gray, noise: f32, chance: &mut Chance) -> Gray {
    let grain =
        picture.pixels().iter().map(|pixel| (f32::from(*pixel) + chance.spread() * noise).round() as u8);
    Gray::new(picture.width(), picture.height(), grain.collect()).expect("as many pixels as before")
}

/// The painted cabinet behind: uneven, with a seam and screws.
struct Wall {
    waves: [[f32; 3]; 4],
}

impl Wall {
    fn of(chance: &mut Chance) -> Wall {
        Wall {
            waves: core::array::from_fn(|_| {
                [chance.between(1.0, 9.0), chance.between(1.0, 9.0), chance.part() * 6.0]
            }),
        }
    }

    fn at(&self, u: f32, v: f32) -> f32 {
        let wave = |[a, b, c]: &[f32; 3]| (a * u + b * v + c).sin() * 0.03;
        let paint = 0.42 + self.waves.iter().map(wave).sum::<f32>();
        let screw = [(-0.72f32, -0.62f32), (0.72, -0.62), (-0.72, 0.72), (0.72, 0.72)]
            .iter()
            .any(|(x, y)| (u - x).hypot(v - y) < 0.06);
        let seam = (v - 0.95).abs() < 0.01;
        if seam {
            0.1
        } else if screw {
            0.65 + 0.2 * (u * 40.0 + v * 25.0).sin()
        } else {
            paint
        }
    }
}
