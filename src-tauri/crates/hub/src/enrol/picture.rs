//! The invitation as a QR code: on a terminal, as a drawing, as a picture.

use tagcode::{Code, DrawError, Strength};

use crate::Error;

/// White around the code, in modules (ISO/IEC 18004 asks for four).
const QUIET: usize = 4;
/// Pixels a module of the picture.
const PIXELS: usize = 8;

/// An invitation as a code.
#[derive(Debug, Clone)]
pub struct Picture(Code);

impl Picture {
    /// Draws a text.
    ///
    /// # Errors
    ///
    /// [`Error::Asked`] for a text that no code holds.
    pub fn of(text: &str) -> Result<Picture, Error> {
        let of = |error: DrawError| Error::Asked(format!("The code cannot be drawn. {error}"));
        Code::strongest(text, Strength::Medium).map(Picture).map_err(of)
    }

    /// Returns it in letters of half a line's height, black on white whatever the terminal's own colours are.
    #[must_use]
    pub fn letters(&self) -> String {
        let side = self.0.side() + 2 * QUIET;
        let dark = |x: usize, y: usize| match (x.checked_sub(QUIET), y.checked_sub(QUIET)) {
            (Some(x), Some(y)) => y < self.0.side() && self.0.dark(x, y),
            _ => false,
        };
        let mut text = String::new();
        for y in (0..side).step_by(2) {
            text.push_str("\x1b[30;107m");
            for x in 0..side {
                text.push(match (dark(x, y), dark(x, y + 1)) {
                    (true, true) => '\u{2588}',
                    (true, false) => '\u{2580}',
                    (false, true) => '\u{2584}',
                    (false, false) => ' ',
                });
            }
            text.push_str("\x1b[0m\n");
        }
        text
    }

    /// Returns it as SVG.
    #[must_use]
    pub fn svg(&self) -> String {
        self.0.svg(1.0)
    }

    /// Returns it as PNG.
    ///
    /// # Errors
    ///
    /// [`Error::Asked`] where it cannot be packed; with a vector as the target that does not happen.
    pub fn png(&self) -> Result<Vec<u8>, Error> {
        let picture = self.0.bitmap(PIXELS);
        let side = |pixels| u32::try_from(pixels).unwrap_or(u32::MAX);
        let mut bytes = Vec::new();
        let mut encoder = png::Encoder::new(&mut bytes, side(picture.width()), side(picture.height()));
        encoder.set_color(png::ColorType::Grayscale);
        let written = encoder.write_header().and_then(|mut writer| writer.write_image_data(picture.pixels()));
        written.map_err(|error| Error::Asked(format!("The picture could not be made ({error}).")))?;
        Ok(bytes)
    }
}

#[cfg(test)]
mod tests {
    use ::exchange::enrol::LONGEST_ADDRESS;
    use record::LogId;
    use tagcode::{Effort, Gray, photo, read};

    use super::*;
    use crate::enrol::Invitation;

    /// The longest invitation that there can be.
    fn longest() -> String {
        let address = format!("https://{}", "h".repeat(LONGEST_ADDRESS - "https://".len()));
        Invitation { address, organisation: LogId([0xa5; 32]), code: [0x5a; 16] }.text()
    }

    /// A picture as a frame of a phone's camera has it that it fills: no longer than 400 pixels.
    fn framed(picture: &Gray) -> Gray {
        let step = picture.width().div_ceil(400);
        let side = picture.width() / step;
        Gray::from_fn(side, side, |x, y| picture.at((x * step) as isize, (y * step) as isize))
    }

    #[test]
    fn the_longest_invitation_reads_off_a_single_frame_of_a_camera() {
        let text = longest();
        let picture = photo::decode(&Picture::of(&text).unwrap().png().unwrap()).unwrap();
        let found = read(&framed(&picture), Effort::Frame, &mut || true);
        assert_eq!(found.codes.iter().map(|code| code.text.as_str()).collect::<Vec<_>>(), [text]);
    }

    #[test]
    fn the_picture_reads_as_the_invitation() {
        let text = "headmark-enrol:1?hub=https://hub.marrowby.example:8443&organisation=abc&code=def";
        let picture = Picture::of(text).unwrap();
        let found = read(&photo::decode(&picture.png().unwrap()).unwrap(), Effort::Full, &mut || true);
        assert_eq!(found.codes.iter().map(|code| code.text.as_str()).collect::<Vec<_>>(), [text]);
        assert!(picture.svg().contains("<svg") && picture.letters().lines().count() > 20);
    }
}
