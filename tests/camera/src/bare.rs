use tagcode::{Code, Gray, Strength};

use super::{Chance, Scene};

/// Pictures without a code, of kinds that look like codes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bare {
    /// A sensor's noise and nothing else.
    Noise,
    /// Squares of random black and white: everything a code is made of, but its marks.
    Modules,
    /// A chessboard.
    Checkers,
    /// A bar code.
    Bars,
    /// Rings and squares within each other, as the marks in a code's corners, on dials, valves and vents.
    Rings,
    /// The marks of a code in their places, and chance between them: what only error correction can refuse.
    Marks,
    /// A cabinet on which no label hangs.
    Cabinet,
    /// Shades without an edge.
    Clouds,
}

const WIDTH: usize = 320;
const HEIGHT: usize = 240;

impl Bare {
    /// All of them.
    pub const ALL: [Bare; 8] = [
        Bare::Noise,
        Bare::Modules,
        Bare::Checkers,
        Bare::Bars,
        Bare::Rings,
        Bare::Marks,
        Bare::Cabinet,
        Bare::Clouds,
    ];

    /// Returns its name in tables.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Bare::Noise => "noise",
            Bare::Modules => "modules",
            Bare::Checkers => "checkers",
            Bare::Bars => "bars",
            Bare::Rings => "rings",
            Bare::Marks => "marks",
            Bare::Cabinet => "cabinet",
            Bare::Clouds => "clouds",
        }
    }

    /// Returns one of its pictures.
    #[must_use]
    pub fn picture(self, beginning: u64) -> Gray {
        let chance = &mut Chance::from(beginning);
        match self {
            Bare::Noise => noise(chance),
            Bare::Modules => modules(chance),
            Bare::Checkers => checkers(chance),
            Bare::Bars => bars(chance),
            Bare::Rings => rings(chance),
            Bare::Marks => marks(chance),
            Bare::Cabinet => {
                let beginning = u64::from(chance.bits());
                Scene { beginning, noise: 4.0, ..Scene::clear(480, 360) }.shot(None)
            }
            Bare::Clouds => clouds(chance),
        }
    }
}

fn noise(chance: &mut Chance) -> Gray {
    let shades: Vec<u8> = (0..WIDTH * HEIGHT).map(|_| (chance.bits() >> 24) as u8).collect();
    Gray::new(WIDTH, HEIGHT, shades).expect("a shade for each pixel")
}

fn modules(chance: &mut Chance) -> Gray {
    let size = 3 + chance.bits() as usize % 9;
    let dark: Vec<bool> = (0..120 * 120).map(|_| chance.bits() & 1 == 1).collect();
    Gray::from_fn(WIDTH, HEIGHT, |x, y| if dark[y / size * 120 + x / size] { 20 } else { 230 })
}

fn checkers(chance: &mut Chance) -> Gray {
    let (across, down) = (2 + chance.bits() as usize % 30, 2 + chance.bits() as usize % 30);
    Gray::from_fn(WIDTH, HEIGHT, |x, y| if (x / across + y / down) % 2 == 0 { 30 } else { 220 })
}

fn bars(chance: &mut Chance) -> Gray {
    let mut row = Vec::new();
    while row.len() < WIDTH {
        let (wide, shade) = (1 + chance.bits() as usize % 5, if row.len() % 2 == 0 { 15 } else { 240 });
        row.extend(std::iter::repeat_n(shade, wide * 2));
    }
    Gray::from_fn(WIDTH, HEIGHT, |x, y| if (20..220).contains(&y) { row[x] } else { 240 })
}

fn rings(chance: &mut Chance) -> Gray {
    let places: Vec<(f32, f32, f32, bool)> = (0..12)
        .map(|_| {
            let (x, y) = (chance.between(20.0, 300.0), chance.between(20.0, 220.0));
            (x, y, chance.between(2.0, 6.0), chance.part() < 0.5)
        })
        .collect();
    Gray::from_fn(WIDTH, HEIGHT, |x, y| {
        for (mx, my, size, round) in &places {
            let (dx, dy) = ((x as f32 - mx) / size, (y as f32 - my) / size);
            let far = if *round { dx.hypot(dy) } else { dx.abs().max(dy.abs()) };
            if far < 1.5 || (2.5..3.5).contains(&far) {
                return 20;
            }
            if far < 4.5 {
                return 235;
            }
        }
        140
    })
}

fn marks(chance: &mut Chance) -> Gray {
    let code = Code::of("https://id.marrowby.example/i/LT-2041", Strength::Quarter).expect("a short link");
    let last = code.side() - 8;
    let marked = |x: usize, y: usize| x == 6 || y == 6 || (x < 8 || x >= last) && y < 8 || x < 8 && y >= last;
    let dark: Vec<bool> = (0..60 * 60).map(|_| chance.bits() & 1 == 1).collect();
    Gray::from_fn(328, 328, |x, y| {
        let inner = |at: usize| (at / 8).checked_sub(4).filter(|at| *at < code.side());
        let dark = inner(x)
            .zip(inner(y))
            .is_some_and(|(x, y)| if marked(x, y) { code.dark(x, y) } else { dark[y * 60 + x] });
        if dark { 0 } else { 255 }
    })
}

fn clouds(chance: &mut Chance) -> Gray {
    let waves: Vec<[f32; 3]> =
        (0..5).map(|_| [chance.part() * 0.09, chance.part() * 0.09, chance.part() * 6.0]).collect();
    Gray::from_fn(WIDTH, HEIGHT, |x, y| {
        let sum: f32 = waves.iter().map(|[a, b, c]| (x as f32 * a + y as f32 * b + c).sin()).sum();
        (128.0 + sum * 24.0) as u8
    })
}
