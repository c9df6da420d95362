//! A draft as the store keeps it: JSON, under a number of its form.
//!
//! A draft that a later version saved in another form is refused here and kept, never misread.

use domain::visit::{Draft, Step};
use serde::{Deserialize, Serialize};

use crate::Error;

/// Raised when an older version could no longer read what is written.
const FORM: u32 = 1;

#[derive(Serialize)]
struct Written<'a> {
    form: u32,
    draft: &'a Draft,
}

#[derive(Deserialize)]
struct Form {
    form: u32,
}

#[derive(Deserialize)]
struct Read {
    draft: Draft,
}

/// Writes a draft.
pub(crate) fn write(draft: &Draft) -> Result<String, Error> {
    serde_json::to_string(&Written { form: FORM, draft }).map_err(|_| Error::UnreadableDraft)
}

/// Reads a draft.
pub(crate) fn read(text: &str) -> Result<Draft, Error> {
    let Form { form } = serde_json::from_str(text).map_err(|_| Error::UnreadableDraft)?;
    if form != FORM {
        return Err(Error::UnreadableDraft);
    }
    let Read { draft } = serde_json::from_str(text).map_err(|_| Error::UnreadableDraft)?;
    Ok(draft)
}

/// Returns a step's word.
pub(crate) fn word(step: Step) -> &'static str {
    match step {
        Step::Find => "find",
        Step::MakeSafe => "make_safe",
        Step::AsFound => "as_found",
        Step::Evidence => "evidence",
        Step::Shift => "shift",
        Step::AsLeft => "as_left",
        Step::BackInService => "back_in_service",
        Step::Sign => "sign",
    }
}
