use tagcode::{Code, Gray, Strength, photo};

use super::{Chance, Light, Scene, hidden, jpeg, worn};

/// A trouble that a label meets in the field.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Out of focus.
    Blur,
    /// Moved while it was taken.
    Motion,
    /// A sensor at its end.
    Noise,
    /// Little light.
    Dusk,
    /// The sun in the plate.
    Glare,
    /// The shadow of a pipe across it.
    Shadow,
    /// Few pixels for a module.
    LowResolution,
    /// A part of the code out of sight.
    Hidden,
    /// Seen from far aside.
    Oblique,
    /// Packed hard.
    Packed,
    /// Years outdoors.
    Worn,
    /// Light on dark.
    Inverted,
    /// Seen in a mirror, or through the back of a pane.
    Mirrored,
}

/// A photograph and what it should say.
#[derive(Debug, Clone)]
pub struct Shot {
    /// The photograph.
    pub picture: Gray,
    /// What its label says.
    pub text: String,
}

/// Pixels a module of the printed label: finer than any photograph here.
const FINE: usize = 8;

impl Kind {
    /// All of them.
    pub const ALL: [Kind; 13] = [
        Kind::Blur,
        Kind::Motion,
        Kind::Noise,
        Kind::Dusk,
        Kind::Glare,
        Kind::Shadow,
        Kind::LowResolution,
        Kind::Hidden,
        Kind::Oblique,
        Kind::Packed,
        Kind::Worn,
        Kind::Inverted,
        Kind::Mirrored,
    ];

    /// Returns its name in tables and what its strength counts.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Kind::Blur => "blur, pixels",
            Kind::Motion => "motion, pixels",
            Kind::Noise => "noise, shades",
            Kind::Dusk => "dusk, shades from black to white",
            Kind::Glare => "glare",
            Kind::Shadow => "shadow, part of the light",
            Kind::LowResolution => "low resolution, pixels a module",
            Kind::Hidden => "hidden, part of the code",
            Kind::Oblique => "oblique, degrees",
            Kind::Packed => "JPEG, quality",
            Kind::Worn => "worn",
            Kind::Inverted => "inverted",
            Kind::Mirrored => "mirrored",
        }
    }

    /// Returns the strengths it comes in, from little to much.
    #[must_use]
    pub fn strengths(self) -> &'static [f32] {
        match self {
            Kind::Blur => &[2.0, 4.0, 5.0, 6.0],
            Kind::Motion => &[6.0, 10.0, 14.0, 18.0],
            Kind::Noise => &[15.0, 30.0, 45.0, 60.0],
            Kind::Dusk => &[40.0, 20.0, 12.0, 8.0],
            Kind::Glare => &[0.5, 0.8, 1.1, 1.5],
            Kind::Shadow => &[0.5, 0.65, 0.8, 0.9],
            Kind::LowResolution => &[3.0, 2.5, 2.0, 1.6],
            Kind::Hidden => &[0.05, 0.10, 0.15, 0.20, 0.25],
            Kind::Oblique => &[40.0, 50.0, 60.0],
            Kind::Packed => &[20.0, 10.0, 5.0],
            Kind::Worn => &[0.3, 0.6, 0.9],
            Kind::Inverted | Kind::Mirrored => &[1.0],
        }
    }

    /// Returns one of its photographs, held as a hand holds a phone: never quite straight.
    #[must_use]
    pub fn shot(self, strength: f32, beginning: u64) -> Shot {
        // Neighbouring kinds must not share their chance, or one unlucky pose would count thirteen times.
        let chance = &mut Chance::from(beginning.wrapping_mul(131).wrapping_add(self as u64));
        let text = format!("https://id.marrowby.example/i/LT-{}", 1000 + chance.bits() % 9000);
        let code = Code::strongest(&text, Strength::Quarter).expect("a short link");
        let label = self.label(code.bitmap(FINE), strength, chance);
        let scene = self.scene(strength, code.side() + 8, chance);
        let picture = scene.shot(Some(&label));
        let picture = match self {
            Kind::Packed => photo::decode(&jpeg(&picture, strength as u8)).expect("a file just made"),
            _ => picture,
        };
        Shot { picture, text }
    }

    fn label(self, label: Gray, strength: f32, chance: &mut Chance) -> Gray {
        let width = label.width();
        let changed = |change: &dyn Fn(usize, usize) -> u8| Gray::from_fn(width, label.height(), change);
        let pixels = label.pixels();
        match self {
            Kind::Hidden => hidden(&label, 4 * FINE, strength, chance),
            Kind::Worn => worn(&label, strength, chance),
            Kind::Inverted => changed(&|x, y| 255 - pixels[y * width + x]),
            Kind::Mirrored => changed(&|x, y| pixels[y * width + width - 1 - x]),
            _ => label,
        }
    }

    fn scene(self, strength: f32, modules: usize, chance: &mut Chance) -> Scene {
        let turns = [chance.between(-180.0, 180.0), chance.between(-12.0, 12.0), chance.between(-12.0, 12.0)];
        let at = (chance.between(0.42, 0.58), chance.between(0.42, 0.58));
        let held = Scene {
            at,
            turns,
            wide: 0.5,
            noise: 2.0,
            beginning: u64::from(chance.bits()),
            ..Scene::clear(800, 600)
        };
        let day = Light::DAY;
        match self {
            Kind::Blur => Scene { soft: strength, ..held },
            Kind::Motion => Scene { moved: strength as usize, ..held },
            Kind::Noise => Scene { noise: strength, ..held },
            Kind::Dusk => Scene {
                noise: 2.5,
                light: Light { best: 16.0 + strength, least: 16.0, falls: 0.4, ..day },
                ..held
            },
            Kind::Glare => Scene { light: Light { glare: strength, ..day }, ..held },
            Kind::Shadow => Scene { light: Light { shadow: strength, ..day }, ..held },
            Kind::LowResolution => {
                Scene { size: (320, 240), wide: strength * modules as f32 / 240.0, ..held }
            }
            Kind::Oblique => {
                let aside = if chance.part() < 0.5 { strength } else { -strength };
                let [roll, ..] = held.turns;
                let turns = if chance.part() < 0.5 { [roll, aside, 0.0] } else { [roll, 0.0, aside] };
                Scene { turns, ..held }
            }
            _ => held,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Kind;

    #[test]
    fn the_same_numbers_give_the_same_photograph_and_others_another() {
        for kind in Kind::ALL {
            let strength = kind.strengths()[0];
            let (one, again, other) =
                (kind.shot(strength, 1), kind.shot(strength, 1), kind.shot(strength, 2));
            assert_eq!((&one.picture, &one.text), (&again.picture, &again.text));
            assert_ne!(one.picture, other.picture, "{kind:?}");
        }
    }
}
