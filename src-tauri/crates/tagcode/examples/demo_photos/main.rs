//! Makes the demo's photographs: weathered labels on painted metal, at a slight angle and in uneven light.
//!
//! `cargo run -p tagcode --example demo_photos -- demo/assets` writes the same bytes every time: all chance comes from
//! the number that stands beside each photo. Each label is read again before it is written.
#![allow(clippy::print_stdout)] // A tool run by hand.

mod chance;
mod letters;
mod plate;
mod scene;

use std::error::Error;
use std::path::Path;

use image::codecs::jpeg::JpegEncoder;
use image::{ExtendedColorType, ImageEncoder};
use tagcode::{Effort, photo, read};

use crate::plate::Plate;
use crate::scene::Scene;

/// Photos are kept in the repository, so they stay small.
const MOST_BYTES: usize = 1_400_000;

/// What stands on a photo's plate, and where the plate lies in it.
struct Photo {
    file: &'static str,
    /// The code's text; none for a plate that lost its code.
    code: Option<&'static str>,
    tag: &'static str,
    scene: Scene,
}

fn photos() -> [Photo; 4] {
    [
        Photo {
            file: "label-lt-2041.jpg",
            code: Some("https://id.marrowby.example/i/LT-2041"),
            tag: "LT-2041",
            scene: Scene {
                chance: 2041,
                corners: [(1320.0, 520.0), (2790.0, 700.0), (2700.0, 2400.0), (1180.0, 2330.0)],
                paint: [92.0, 126.0, 138.0],
            },
        },
        Photo {
            file: "label-lt-3107.jpg",
            code: Some("https://id.marrowby.example/i/LT-3107"),
            tag: "LT-3107",
            scene: Scene {
                chance: 3107,
                corners: [(1180.0, 690.0), (2520.0, 480.0), (2740.0, 2130.0), (1270.0, 2390.0)],
                paint: [118.0, 128.0, 104.0],
            },
        },
        Photo {
            file: "unknown-code.jpg",
            code: Some("PUMP 7 SPARE"),
            tag: "PUMP 7",
            scene: Scene {
                chance: 7,
                corners: [(1240.0, 600.0), (2640.0, 640.0), (2610.0, 2310.0), (1290.0, 2250.0)],
                paint: [70.0, 98.0, 142.0],
            },
        },
        Photo {
            file: "no-code.jpg",
            code: None,
            tag: "LT-2041",
            scene: Scene {
                chance: 99,
                corners: [(1200.0, 740.0), (2760.0, 600.0), (2820.0, 2260.0), (1150.0, 2390.0)],
                paint: [92.0, 126.0, 138.0],
            },
        },
    ]
}

fn main() -> Result<(), Box<dyn Error>> {
    let folder = std::env::args().nth(1).ok_or("give the folder to write to")?;
    for made in photos() {
        let plate = Plate::new(made.code, made.tag, made.scene.chance)?;
        let bytes = jpeg(&made.scene.photograph(&plate))?;
        let seen = read(&photo::decode(&bytes)?, Effort::Photo, &mut || true);
        let texts: Vec<&str> = seen.codes.iter().map(|code| code.text.as_str()).collect();
        if texts.first().copied() != made.code || texts.len() > 1 {
            return Err(format!("{} reads as {texts:?}", made.file).into());
        }
        std::fs::write(Path::new(&folder).join(made.file), &bytes)?;
        println!("{}: {} bytes, {texts:?} after {} attempts", made.file, bytes.len(), seen.attempts);
    }
    Ok(())
}

/// Packs a picture at the best quality that stays small enough.
fn jpeg(rgb: &[u8]) -> Result<Vec<u8>, Box<dyn Error>> {
    for quality in [88, 82, 76, 70, 64, 58] {
        let mut bytes = Vec::new();
        let (width, height) = (u32::try_from(scene::WIDTH)?, u32::try_from(scene::HEIGHT)?);
        JpegEncoder::new_with_quality(&mut bytes, quality).write_image(
            rgb,
            width,
            height,
            ExtendedColorType::Rgb8,
        )?;
        if bytes.len() <= MOST_BYTES {
            return Ok(bytes);
        }
    }
    Err("the photo stays too large".into())
}
