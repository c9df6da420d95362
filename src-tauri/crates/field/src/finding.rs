//! Finding the instrument: by a code, by a photo of one, or by typing.

use crate::message::saying;
use crate::view::{CodeOutcome, Grade, Hit};
use crate::{Error, Phone, code_text};

impl Phone {
    /// Looks a code up by its whole text; only space around it is left out.
    ///
    /// A code that nobody claims is no error: its text is kept, and the instrument is found by its tag.
    ///
    /// # Errors
    ///
    /// [`Error::TextTooLong`], and what the store says.
    pub fn find_code(&self, text: &str) -> Result<CodeOutcome, Error> {
        if text.len() > code_text::MOST_KEPT {
            return Err(Error::TextTooLong { most: 8 * 1024 });
        }
        let whole = text.trim();
        self.remember_scanned(whole);
        let tags = self.store().tags_of_code(whole)?;
        let code = code_text::safe(whole);
        match tags.as_slice() {
            [] => Ok(unknown(code)),
            [tag] => Ok(CodeOutcome::Found { tag: tag.clone(), code }),
            _ => self.several(&tags),
        }
    }

    /// Interim.
    ///
    /// # Errors
    ///
    /// Interim.
    pub fn find_photo(&self, upload: &str) -> Result<CodeOutcome, Error> {
        let _bytes = self.take_upload(upload)?;
        let text = "No code was found in the photo.";
        let message = saying("code.not_read", Grade::Note, text, "Go closer and try again.");
        Ok(CodeOutcome::NotRead { message })
    }

    /// Returns the instruments a text may mean, best first; a search never chooses.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn search(&self, text: &str) -> Result<Vec<Hit>, Error> {
        // Nobody types a tag this long; what is pasted by mistake is compared no further.
        let text: String = text.chars().take(100).collect();
        Ok(self.index()?.search(&text))
    }

    fn several(&self, tags: &[String]) -> Result<CodeOutcome, Error> {
        let hits = tags.iter().map(|tag| self.register_row(tag).map(hit)).collect::<Result<_, _>>()?;
        let text = "More than one instrument of the register claims this code.";
        let remedy = "Choose the one whose plate you see, and have the register put right.";
        Ok(CodeOutcome::Several { hits, message: saying("code.several", Grade::Warning, text, remedy) })
    }
}

fn hit(row: domain::visit::Instrument) -> Hit {
    Hit { tag: row.tag, service: row.service, site: row.site.name, serial: row.serial, exact: false }
}

fn unknown(code: String) -> CodeOutcome {
    let text = "No instrument of the register carries this code.";
    let remedy = "Search for the tag on the plate; the code's text is kept with the visit.";
    CodeOutcome::Unknown { code, message: saying("code.unknown", Grade::Note, text, remedy) }
}
