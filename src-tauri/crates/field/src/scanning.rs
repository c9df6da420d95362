//! Reading codes: off a camera's frames while the phone is held to a label, and off a photo.
//!
//! A frame is worth little time, because the next one comes soon; a photo is worth more. Where a photo told nothing in
//! its time, it is kept until the person asks to look longer, goes on, or the app is put away.

use std::time::Duration;

use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use tagcode::photo::PhotoError;
use tagcode::{Effort, Gray, Reading, photo};

use crate::message::{photo_code, saying};
use crate::view::{CodeOutcome, Grade, Message};
use crate::{Clock, Error, Phone};

/// How long one frame of the camera is looked at.
const FRAME_LOOK: Duration = Duration::from_millis(40);
/// How long a photo is looked at.
const PHOTO_LOOK: Duration = Duration::from_millis(400);
/// How long a photo is looked at where the person asked for it.
const LONG_LOOK: Duration = Duration::from_secs(10);
/// The most pixels of a frame: such a square crosses the border in less time than it is looked at.
const MOST_FRAME: usize = (tagcode::FRAME_SIDE * tagcode::FRAME_SIDE) as usize;
/// How many frames are held back for a code that is seen beside another and not read: the hand comes nearer and stiller.
const HELD_BACK: u32 = 5;

impl Phone {
    /// Reads the codes off one frame of the camera, in shades of gray, a byte a pixel, row by row, and looks them up.
    ///
    /// None where the frame told nothing; the next one may. So it is for a few frames that show a second code which they
    /// do not tell; after them it is told that it is there.
    ///
    /// # Errors
    ///
    /// [`Error::BadFrame`] for pixels that are not as many as width and height say, or too many; what the store says.
    pub fn find_frame(&self, width: u32, height: u32, base64: &str) -> Result<Option<CodeOutcome>, Error> {
        let frame = frame(width, height, base64).ok_or(Error::BadFrame)?;
        let clock = self.ports().clock.as_ref();
        let reading = tagcode::read(&frame, Effort::Frame, &mut until(clock, FRAME_LOOK));
        if reading.codes.is_empty() || (doubtful(&reading) && self.hold_back(HELD_BACK)) {
            return Ok(None);
        }
        self.hold_back_none();
        self.outcome(&reading).map(Some)
    }

    /// Reads the codes off a photo and looks them up.
    ///
    /// A photo without a code, or a file that is no photo, is an outcome with what to do next and no error.
    ///
    /// # Errors
    ///
    /// What the upload and the store say.
    pub fn find_photo(&self, upload: &str) -> Result<CodeOutcome, Error> {
        let bytes = self.take_upload(upload)?;
        let picture = match photo::decode(&bytes) {
            Ok(picture) => picture,
            Err(error) => return Ok(CodeOutcome::NotRead { message: no_photo(&error), longer: false }),
        };
        drop(bytes);
        let clock = self.ports().clock.as_ref();
        let reading = tagcode::read(&picture, Effort::Photo, &mut until(clock, PHOTO_LOOK));
        if reading.codes.is_empty() {
            self.keep_photo(Some(picture));
            return Ok(CodeOutcome::NotRead { message: nothing_read(&reading), longer: true });
        }
        self.outcome(&reading)
    }

    /// Looks longer, and in more ways, at the photo that told nothing.
    ///
    /// # Errors
    ///
    /// [`Error::NoUpload`] when it is no longer here, and what the store says.
    pub fn find_longer(&self) -> Result<CodeOutcome, Error> {
        let picture = self.keep_photo(None).ok_or(Error::NoUpload)?;
        let clock = self.ports().clock.as_ref();
        let reading = tagcode::read(&picture, Effort::Full, &mut until(clock, LONG_LOOK));
        if reading.codes.is_empty() {
            return Ok(CodeOutcome::NotRead { message: nothing_read(&reading), longer: false });
        }
        self.outcome(&reading)
    }

    fn outcome(&self, reading: &Reading) -> Result<CodeOutcome, Error> {
        let codes: Vec<&str> = reading.codes.iter().map(|code| code.text.as_str()).collect();
        self.look_up(&codes, doubtful(reading))
    }
}

/// Tells whether another code may be in view than those that were read.
fn doubtful(reading: &Reading) -> bool {
    !reading.unread.is_empty() || reading.unsure
}

fn frame(width: u32, height: u32, base64: &str) -> Option<Gray> {
    // Four letters of base64 carry three bytes: what is too long is refused before it is decoded.
    if base64.len() > MOST_FRAME.div_ceil(3) * 4 {
        return None;
    }
    let pixels = STANDARD.decode(base64).ok()?;
    Gray::new(usize::try_from(width).ok()?, usize::try_from(height).ok()?, pixels)
}

/// Returns a callback that says "go on" until the time is over.
fn until(clock: &dyn Clock, longest: Duration) -> impl FnMut() -> bool + '_ {
    let end = clock.ticks().saturating_add(longest);
    move || clock.ticks() < end
}

/// The reader's own sentences say what to do.
fn no_photo(error: &PhotoError) -> Message {
    saying(photo_code(error), Grade::Warning, &error.to_string(), "")
}

fn nothing_read(reading: &Reading) -> Message {
    if !reading.unread.is_empty() {
        let text = "A code is in the picture but could not be read.";
        let remedy = "Photograph it from nearer, from the front, without glare; wipe the label if it is dirty; or type \
                      the tag on the plate.";
        return saying("code.unread", Grade::Note, text, remedy);
    }
    let text = if reading.stopped {
        "The time for this photo was over, and no code was found so far."
    } else {
        "No code was found in the photo."
    };
    let remedy = "Go closer until the label fills most of the picture, hold still, keep sun and lamp out of it; or \
                  type the tag on the plate.";
    saying("code.not_read", Grade::Note, text, remedy)
}
