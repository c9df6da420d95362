use tagcode::Gray;

use super::Chance;

/// Returns a label after years outdoors: ink faded, scratches, specks of dirt and of lost ink; 0 is new, 1 is hard to
/// bear.
#[must_use]
pub fn worn(label: &Gray, wear: f32, chance: &mut Chance) -> Gray {
    let ink = 60.0 * wear;
    let paper = 255.0 - 30.0 * wear;
    let (width, height) = (label.width(), label.height());
    let mut pixels: Vec<u8> =
        label.pixels().iter().map(|pixel| (ink + f32::from(*pixel) / 255.0 * (paper - ink)) as u8).collect();
    let size = width.max(height) as f32;
    for _ in 0..(wear * 400.0) as usize {
        let (x, y, half) =
            (chance.part() * width as f32, chance.part() * height as f32, chance.part() * size / 250.0);
        let shade = if chance.part() < 0.5 { 90 } else { 215 };
        fill(&mut pixels, (width, height), (x, y), half, shade);
    }
    for _ in 0..(wear * 14.0) as usize {
        scratch(&mut pixels, (width, height), chance);
    }
    Gray::new(width, height, pixels).expect("as many pixels as before")
}

fn scratch(pixels: &mut [u8], size: (usize, usize), chance: &mut Chance) {
    let (mut x, mut y) = (chance.part() * size.0 as f32, chance.part() * size.1 as f32);
    let way = chance.between(0.0, core::f32::consts::TAU);
    let half = chance.between(0.3, 1.2) * size.0 as f32 / 600.0;
    let steps = (chance.part() * 0.5 * size.0 as f32 / half.max(0.5)) as usize;
    for _ in 0..steps {
        fill(pixels, size, (x, y), half, 205);
        x += way.cos() * half;
        y += way.sin() * half + chance.between(-0.2, 0.2) * half;
    }
}

fn fill(pixels: &mut [u8], size: (usize, usize), middle: (f32, f32), half: f32, shade: u8) {
    let range = |middle: f32, most: usize| {
        let from = (middle - half).max(0.0) as usize;
        from..((middle + half).max(0.0) as usize + 1).min(most)
    };
    for y in range(middle.1, size.1) {
        for x in range(middle.0, size.0) {
            pixels[y * size.0 + x] = shade;
        }
    }
}

/// Returns a label with a part of its code out of sight, from 0 to 1: behind something at its lower right, behind
/// a band along its right or lower side, or under blots. Around the code there is a quiet zone of so many pixels.
#[must_use]
pub fn hidden(label: &Gray, zone: usize, part: f32, chance: &mut Chance) -> Gray {
    let size = (label.width(), label.height());
    let code = (zone as f32, (label.width() - 2 * zone) as f32);
    let mut pixels = label.pixels().to_vec();
    let shade = 40 + (chance.bits() % 160) as u8;
    let far = code.0 + code.1;
    let mut cover = |left: f32, top: f32, wide: f32, high: f32| {
        for y in top as usize..((top + high) as usize).min(size.1) {
            pixels[y * size.0 + left as usize..y * size.0 + ((left + wide) as usize).min(size.0)].fill(shade);
        }
    };
    match chance.bits() % 4 {
        0 => {
            let side = part.sqrt() * code.1;
            cover(far - side, far - side, side + code.0, side + code.0);
        }
        1 => cover(far - part * code.1, 0.0, part * code.1 + code.0, size.1 as f32),
        2 => cover(0.0, far - part * code.1, size.0 as f32, part * code.1 + code.0),
        _ => blots(&mut pixels, size.0, code, (part, shade), chance),
    }
    Gray::new(size.0, size.1, pixels).expect("as many pixels as before")
}

/// Drops blots on a code, from `code.0` on and `code.1` wide, until so much of it is covered.
fn blots(pixels: &mut [u8], width: usize, code: (f32, f32), (part, shade): (f32, u8), chance: &mut Chance) {
    let (from, to) = (code.0 as usize, (code.0 + code.1) as usize);
    let mut covered = vec![false; pixels.len()];
    let mut left = (part * code.1 * code.1) as usize;
    while left > 0 {
        let middle = (code.0 + chance.part() * code.1, code.0 + chance.part() * code.1);
        let radius = chance.between(0.03, 0.09) * code.1;
        for y in from..to {
            for x in from..to {
                let inside = (x as f32 - middle.0).hypot(y as f32 - middle.1) < radius;
                let at = y * width + x;
                if inside && left > 0 && !covered[at] {
                    covered[at] = true;
                    pixels[at] = shade;
                    left -= 1;
                }
            }
        }
    }
}
