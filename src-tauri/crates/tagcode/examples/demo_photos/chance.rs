//! Chance that is the same every time: numbers from places, and smooth clouds from such numbers.

/// Returns a number from 0 to 1 that belongs to a place.
pub(crate) fn at(chance: u32, x: i32, y: i32) -> f32 {
    let mut mixed = chance
        .wrapping_mul(0x9E37_79B9)
        .wrapping_add(x.cast_unsigned().wrapping_mul(0x85EB_CA6B))
        .wrapping_add(y.cast_unsigned().wrapping_mul(0xC2B2_AE35));
    for _ in 0..2 {
        mixed ^= mixed >> 15;
        mixed = mixed.wrapping_mul(0x2C1B_3C6D);
        mixed ^= mixed >> 12;
    }
    (mixed >> 8) as f32 / (1u32 << 24) as f32
}

/// Returns a smooth cloud from 0 to 1 whose lumps are one unit wide.
pub(crate) fn cloud(chance: u32, x: f32, y: f32) -> f32 {
    let (left, top) = (x.floor(), y.floor());
    let (dx, dy) = (smooth(x - left), smooth(y - top));
    let corner = |ox, oy| at(chance, left as i32 + ox, top as i32 + oy);
    let upper = corner(0, 0) * (1.0 - dx) + corner(1, 0) * dx;
    let lower = corner(0, 1) * (1.0 - dx) + corner(1, 1) * dx;
    upper * (1.0 - dy) + lower * dy
}

/// Returns a cloud with finer lumps within its lumps.
pub(crate) fn rough(chance: u32, x: f32, y: f32) -> f32 {
    cloud(chance, x, y) * 0.55
        + cloud(chance + 1, x * 2.3, y * 2.3) * 0.3
        + cloud(chance + 2, x * 5.1, y * 5.1) * 0.15
}

fn smooth(part: f32) -> f32 {
    part * part * (3.0 - 2.0 * part)
}

/// Returns 0 below a value, 1 above another, and a smooth way between.
pub(crate) fn step(from: f32, to: f32, value: f32) -> f32 {
    smooth(((value - from) / (to - from)).clamp(0.0, 1.0))
}
