//! What was found, in a person's words.

use domain::visit::MODEL;
use hubstore::Found;
use tagcode::safe_text;

/// Returns what differs and by how much, or why a visit was not checked; none where it agrees.
#[must_use]
pub fn detail(found: &Found) -> Option<String> {
    match found {
        Found::Agrees => None,
        Found::Differs(text) | Found::Unreadable(text) => Some(text.clone()),
        Found::OtherModel(model) => {
            Some(format!("Not checked: it was worked out by model {model}, an older one, which is no fault."))
        }
        Found::NewerModel(model) => Some(format!(
            "Not checked: it was made by a newer app (model {model}, and here is {MODEL}). Update the hub."
        )),
    }
}

/// Says what working a visit out again found; none where nobody has yet. One line without a stop.
#[must_use]
pub fn said(found: Option<&Found>) -> String {
    match found {
        None => "not worked out again yet".to_owned(),
        Some(Found::Agrees) => "worked out again, and agrees".to_owned(),
        Some(Found::Differs(what)) => format!("CAME OUT OTHERWISE: {}", safe_text(what)),
        Some(Found::OtherModel(model)) => {
            format!("not checked: worked out by model {model}, and here is {MODEL}")
        }
        Some(Found::NewerModel(model)) => {
            format!("NOT CHECKED: made by a newer app: update the hub (model {model}, and here is {MODEL})")
        }
        Some(Found::Unreadable(why)) => format!("COULD NOT BE CHECKED: {}", safe_text(why)),
    }
}
