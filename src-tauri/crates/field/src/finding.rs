//! Finding the instrument: by a code's text, or by typing. `scanning` reads the codes off photos and frames.
//!
//! A code is looked up by its whole text, so that whatever code an instrument carries can serve. What it says is
//! never opened and never split up.

use domain::visit::Instrument;
use tagcode::safe_text;

use crate::message::saying;
use crate::view::{CodeOutcome, Grade, Hit, Message};
use crate::{Error, Phone};

/// The longest code text that is looked up, in bytes: more than the largest printed code can hold.
const LONGEST_CODE: u32 = 8 * 1024;
/// The longest text that is searched for, in characters: nobody types a tag this long.
const LONGEST_SEARCH: usize = 100;

impl Phone {
    /// Looks a code up by its whole text; only space around it is left out.
    ///
    /// A code that nobody claims is no error: its text is kept, and the instrument is found by its tag.
    ///
    /// # Errors
    ///
    /// [`Error::TextTooLong`], and what the store says.
    pub fn find_code(&self, text: &str) -> Result<CodeOutcome, Error> {
        if text.len() > LONGEST_CODE as usize {
            return Err(Error::TextTooLong { most: LONGEST_CODE });
        }
        self.look_up(&[text], false)
    }

    /// Returns the instruments a text may mean, best first; a search never chooses.
    ///
    /// # Errors
    ///
    /// What the store says.
    pub fn search(&self, text: &str) -> Result<Vec<Hit>, Error> {
        let text: String = text.chars().take(LONGEST_SEARCH).collect();
        Ok(self.index()?.search(&text, &self.offered()))
    }

    /// Looks up every code that was in view. One that nobody claims, beside one that leads somewhere, is no
    /// doubt; two that lead to different instruments are. One that was seen beside them but not read is told.
    pub(crate) fn look_up(&self, codes: &[&str], unread: bool) -> Result<CodeOutcome, Error> {
        let mut claims: Vec<(String, String)> = Vec::new();
        for code in codes {
            for tag in self.claims(code.trim())? {
                if !claims.iter().any(|(claimed, _)| *claimed == tag) {
                    claims.push((tag, code.trim().to_owned()));
                }
            }
        }
        match claims.as_slice() {
            [] => {
                let code = codes.first().map_or("", |code| code.trim());
                self.remember_scanned(code);
                // Of several codes in view nobody could say which one is on the instrument.
                let alone = codes.iter().all(|other| other.trim() == code);
                Ok(unknown(safe_text(code), unread, alone && !unread && !code.is_empty()))
            }
            [(tag, code)] => {
                self.remember_scanned(code);
                let message = unread.then(unread_beside);
                Ok(CodeOutcome::Found { tag: tag.clone(), code: safe_text(code), message })
            }
            [(_, code), ..] => {
                // Of two codes nobody could say which one led to the instrument that is chosen.
                let alone = claims.iter().all(|(_, other)| other == code);
                let code = if alone { code.as_str() } else { "" };
                self.remember_scanned(code);
                let hits = claims.iter().map(|(tag, _)| self.register_row(tag).map(hit));
                let hits = hits.collect::<Result<_, _>>()?;
                Ok(CodeOutcome::Several { hits, code: safe_text(code), message: several() })
            }
        }
    }
}

fn hit(row: Instrument) -> Hit {
    Hit {
        tag: row.tag,
        service: row.service,
        site: row.site.name,
        serial: row.serial,
        exact: false,
        beside: String::new(),
    }
}

fn unknown(code: String, unread: bool, linkable: bool) -> CodeOutcome {
    let (text, remedy) = if linkable {
        (
            "No instrument of the register carries this code.",
            "If it stands on an instrument, say whose it is: it then leads there. Or search for the tag on the plate; the \
             code's text is kept with the visit.",
        )
    } else if unread {
        (
            "No instrument of the register carries the code that was read; another code in the picture could not be read.",
            "Go nearer to the other one, from the front, without glare; or search for the tag on the plate. The text \
             that was read is kept with the visit.",
        )
    } else {
        (
            "No instrument of the register carries what was read.",
            "Search for the tag on the plate. To link a code, hold the phone so that it alone is in view.",
        )
    };
    CodeOutcome::Unknown { code, message: saying("code.unknown", Grade::Note, text, remedy), linkable }
}

/// The instrument beside may be meant, so this is no mere note.
fn unread_beside() -> Message {
    let text =
        "Another code in the picture could not be read; this is the instrument of the one that was read.";
    let remedy = "Compare tag and serial number with the plate before you begin.";
    saying("code.unread_beside", Grade::Warning, text, remedy)
}

fn several() -> Message {
    let text = "More than one instrument of the register answers to what was scanned.";
    let remedy =
        "Choose the one whose plate you see. If one code stands on both, have the register put right.";
    saying("code.several", Grade::Warning, text, remedy)
}
