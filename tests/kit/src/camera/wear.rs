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
