//! What a camera sees while a phone is brought to a label: frames, recorded into a folder.

use std::io;
use std::path::Path;

use tagcode::{Code, Gray, Strength};

use crate::camera::{Scene, png};

/// The side of a frame, as the app takes it.
const SIDE: usize = 400;

/// Records a phone being brought to a label at dusk: the bare cabinet, the label out of focus while the hand moves, and
/// then held still, a little askew.
///
/// # Errors
///
/// When the folder cannot be written to, or the text is too long for a label.
pub fn record_label(folder: &Path, code: &str) -> io::Result<()> {
    let label = Code::of(code, Strength::Quarter).map_err(io::Error::other)?.bitmap(8);
    record_shown(folder, &label)
}

/// Records a phone being brought to the picture of a code, in the same way.
///
/// # Errors
///
/// When the folder cannot be written to.
pub fn record_picture(folder: &Path, picture: &Path) -> io::Result<()> {
    let bytes = std::fs::read(picture)?;
    record_shown(folder, &tagcode::photo::decode(&bytes).map_err(io::Error::other)?)
}

fn record_shown(folder: &Path, code: &Gray) -> io::Result<()> {
    let held = Scene { turns: [7.0, 18.0, -9.0], noise: 3.0, ..Scene::clear(SIDE, SIDE) };
    let moving = Scene { soft: 4.0, moved: 14, ..held.clone() };
    let shots = [held.shot(None), moving.shot(Some(code)), moving.shot(Some(code)), held.shot(Some(code))];
    write(folder, &shots)
}

/// Records a cabinet without a label.
///
/// # Errors
///
/// When the folder cannot be written to.
pub fn record_nothing(folder: &Path) -> io::Result<()> {
    let scene = |beginning| Scene { beginning, ..Scene::clear(SIDE, SIDE) };
    write(folder, &[scene(1).shot(None), scene(2).shot(None), scene(3).shot(None)])
}

fn write(folder: &Path, shots: &[Gray]) -> io::Result<()> {
    std::fs::create_dir_all(folder)?;
    for (at, shot) in shots.iter().enumerate() {
        std::fs::write(folder.join(format!("{at:03}.png")), png(shot))?;
    }
    Ok(())
}
