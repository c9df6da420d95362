//! The plate on the metal: the printed label, and what years outdoors did to it.

use tagcode::{Code, DrawError, Strength};

use crate::chance::{at, cloud, rough, step};
use crate::letters::dot;

/// Dots of ink a module of the code is made of, so that edges can be soft.
const FINE: usize = 24;
/// Modules: quiet zone, frame, margin of the plate.
const QUIET: usize = 4;
const FRAME: usize = 1;
const MARGIN: usize = 2;
const CORNER: usize = 3;
/// Modules a plate without a code is wide between its margins.
const BARE: usize = 43;
/// Modules beneath the frame: the tag, and the owner's name.
const TEXT: usize = 16;
const OWNER: &str = "MARROWBY DISTRICT WATER";

/// A plate's shades from 0 (ink) to 1 (blank), with dirt in it.
pub(crate) struct Plate {
    width: usize,
    height: usize,
    shades: Vec<f32>,
}

impl Plate {
    /// Prints a plate and lets it weather.
    pub(crate) fn new(code: Option<&str>, tag: &str, chance: u32) -> Result<Plate, DrawError> {
        let code = code.map(|text| Code::of(text, Strength::Quarter)).transpose()?;
        let frame = code.as_ref().map_or(BARE, |code| code.side() + 2 * (QUIET + FRAME));
        let print = Print { code, frame, tag };
        let (width, height) = ((frame + 2 * MARGIN) * FINE, (frame + 2 * MARGIN + TEXT) * FINE);
        let mut shades = Vec::with_capacity(width * height);
        for y in 0..height {
            for x in 0..width {
                let at = (x as f32 / FINE as f32, y as f32 / FINE as f32);
                shades.push(weathered(chance, print.inked(at.0, at.1), at));
            }
        }
        Ok(Plate { width, height, shades })
    }

    /// Returns the shade at a part of the width and height, between its dots.
    pub(crate) fn shade(&self, u: f32, v: f32) -> f32 {
        let (x, y) = (u * self.width as f32 - 0.5, v * self.height as f32 - 0.5);
        let (left, top) = (x.floor().max(0.0), y.floor().max(0.0));
        let dots = |ox: usize, oy: usize| {
            let x = (left as usize + ox).min(self.width - 1);
            let y = (top as usize + oy).min(self.height - 1);
            self.shades.get(y * self.width + x).copied().unwrap_or(1.0)
        };
        let (dx, dy) = ((x - left).clamp(0.0, 1.0), (y - top).clamp(0.0, 1.0));
        let upper = dots(0, 0) * (1.0 - dx) + dots(1, 0) * dx;
        let lower = dots(0, 1) * (1.0 - dx) + dots(1, 1) * dx;
        upper * (1.0 - dy) + lower * dy
    }

    /// Returns how many times the plate is higher than wide.
    pub(crate) fn ratio(&self) -> f32 {
        self.height as f32 / self.width as f32
    }
}

/// What was printed.
struct Print<'a> {
    code: Option<Code>,
    frame: usize,
    tag: &'a str,
}

impl Print<'_> {
    /// Tells whether there is ink at a place, in modules from the plate's corner.
    fn inked(&self, x: f32, y: f32) -> bool {
        let (x, y) = (x - MARGIN as f32, y - MARGIN as f32);
        if x < 0.0 || y < 0.0 || x >= self.frame as f32 {
            return false;
        }
        let across = self.frame as f32;
        if y < across && self.code.is_some() {
            return self.code_inked(x as usize, y as usize);
        }
        let (tag_top, tag_size) = if self.code.is_some() { (across + 1.0, 1.0) } else { (14.0, 1.0) };
        line(self.tag, x, y - tag_top, across, tag_size)
            || line(OWNER, x, y - across - 10.0, across, 0.3)
            || (self.code.is_none() && line("LEVEL TRANSMITTER", x, y - 28.0, across, 0.4))
    }

    fn code_inked(&self, x: usize, y: usize) -> bool {
        let far = self.frame - FRAME;
        let edge = x < FRAME || y < FRAME || x >= far || y >= far;
        let filled = x + CORNER >= self.frame && y + CORNER >= self.frame;
        let inner = |at: usize| at.checked_sub(FRAME + QUIET);
        let module = inner(x).zip(inner(y));
        let dark = self.code.as_ref().zip(module).is_some_and(|(code, (x, y))| code.dark(x, y));
        edge || filled || dark
    }
}

/// A line of text in the middle of a width, its dots so large.
fn line(text: &str, x: f32, y: f32, across: f32, size: f32) -> bool {
    let wide = (text.chars().count() * 6 - 1) as f32 * size;
    let (x, y) = ((x - (across - wide) / 2.0) / size, y / size);
    x >= 0.0 && (0.0..7.0).contains(&y) && dot(text, x as usize, y as usize)
}

/// Ink fades and flakes, the blank yellows and takes on dirt, scratches go through both.
fn weathered(chance: u32, inked: bool, (x, y): (f32, f32)) -> f32 {
    let faded = 0.12 + 0.16 * rough(chance + 10, x / 14.0, y / 14.0);
    let dirt = 0.22 * step(0.52, 0.85, rough(chance + 20, x / 9.0, y / 9.0));
    let mut shade = if inked { faded } else { 0.93 - dirt };
    // Flakes smaller than a module: the code's own redundancy must carry them.
    if inked && rough(chance + 30, x * 1.1, y * 1.1) > 0.78 {
        shade = 0.7;
    }
    let speck = cloud(chance + 40, x * 2.2, y * 2.2) * at(chance + 41, x as i32, y as i32);
    if speck > 0.8 {
        shade = shade.min(0.35);
    }
    for scratch in 0..5 {
        let along = |part| at(chance + 50, scratch, part);
        let (slope, start) = (along(1) * 1.6 - 0.8, along(2) * 60.0);
        let off = (y - start - slope * x + cloud(chance + 60, x / 5.0, 0.0)).abs();
        if off < 0.12 + 0.1 * along(3) && (x / 50.0 - along(4)).abs() < 0.25 {
            shade = shade * 0.35 + 0.5;
        }
    }
    shade
}
