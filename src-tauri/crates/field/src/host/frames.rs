//! Recorded frames in place of a camera, for a desktop that stands in for a phone.

use std::path::{Path, PathBuf};

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use tagcode::photo;

use crate::view::RecordedFrame;

/// The longest side of a frame, as the screens take it from a camera.
const LONGEST: usize = 400;

/// A folder of pictures, shown one after the other, over and over.
#[derive(Debug, Clone)]
pub struct RecordedFrames(Vec<PathBuf>);

impl RecordedFrames {
    /// Lists the pictures of a folder, in the order of their names.
    ///
    /// # Errors
    ///
    /// When the folder cannot be read.
    pub fn of(folder: &Path) -> std::io::Result<RecordedFrames> {
        let listed = std::fs::read_dir(folder)?.map(|entry| Ok(entry?.path()));
        let mut files = listed.collect::<std::io::Result<Vec<_>>>()?;
        files.retain(|file| file.extension().is_some_and(|end| end == "png" || end == "jpg"));
        files.sort();
        Ok(RecordedFrames(files))
    }

    /// Returns the frame at a place, counted on from the first again at the end; none where a picture is no picture.
    #[must_use]
    pub fn at(&self, place: u32) -> Option<RecordedFrame> {
        let place = usize::try_from(place).ok()?.checked_rem(self.0.len())?;
        let picture = photo::decode(&std::fs::read(self.0.get(place)?).ok()?).ok()?;
        // Whole steps: a frame that was recorded at the right size stays as it is.
        let step = picture.long_side().div_ceil(LONGEST).max(1);
        let (width, height) = (picture.width() / step, picture.height() / step);
        let rows = picture.pixels().chunks_exact(picture.width().max(1)).step_by(step).take(height);
        let pixels: Vec<u8> = rows.flat_map(|row| row.iter().copied().step_by(step).take(width)).collect();
        Some(RecordedFrame {
            width: u32::try_from(width).ok()?,
            height: u32::try_from(height).ok()?,
            base64: STANDARD.encode(pixels),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn picture(side: u32, shade: u8) -> Vec<u8> {
        let mut png = Vec::new();
        let pixels = image::GrayImage::from_pixel(side, side, image::Luma([shade]));
        let written = pixels.write_to(&mut std::io::Cursor::new(&mut png), image::ImageFormat::Png);
        written.unwrap();
        png
    }

    #[test]
    fn frames_come_in_the_order_of_their_names_and_over_again() {
        let folder = tempfile::tempdir().unwrap();
        std::fs::write(folder.path().join("b.png"), picture(400, 9)).unwrap();
        std::fs::write(folder.path().join("a.png"), picture(1000, 7)).unwrap();
        std::fs::write(folder.path().join("note.txt"), "no picture").unwrap();
        let frames = RecordedFrames::of(folder.path()).unwrap();
        let seen = [0, 1, 2].map(|at| {
            let frame = frames.at(at).unwrap();
            let pixels = STANDARD.decode(frame.base64).unwrap();
            assert_eq!(pixels.len(), usize::try_from(frame.width * frame.height).unwrap());
            (frame.width, pixels[0])
        });
        assert_eq!(seen, [(333, 7), (400, 9), (333, 7)]);
    }

    #[test]
    fn an_empty_folder_has_no_frame() {
        let folder = tempfile::tempdir().unwrap();
        assert_eq!(RecordedFrames::of(folder.path()).unwrap().at(0), None);
    }
}
