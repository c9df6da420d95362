//! What is said of a bundle that was made.

use crate::counted::counted;
use crate::message::saying;
use crate::view::{BundleMade, Grade, Message};

/// Says how many records are in it and how many are left, and whether it goes on where another ended.
pub(super) fn told(path: String, put: u32, left: u32, goes_on: bool) -> BundleMade {
    let holds = match put {
        0 => "Nothing waits, so the file holds only whom to trust and what the hub has said.".to_owned(),
        1 => "1 record is in the file.".to_owned(),
        more => format!("{more} records are in the file."),
    };
    let on = match (goes_on, left) {
        (false, _) => "",
        (true, 0) => " It goes on where the file before it ended, and holds the rest.",
        (true, _) => " It goes on where the file before it ended.",
    };
    let messages = (left > 0).then(|| not_all(left)).into_iter().collect();
    BundleMade { path, text: format!("{holds}{on}"), messages }
}

fn not_all(left: u32) -> Message {
    let text = format!("The file is full: {} did not go in.", counted(left, "record"));
    saying(
        "bundle.not_all",
        Grade::Warning,
        &text,
        "Write another file: it goes on with them. Hand over all the files; after the last one the next begins anew.",
    )
}
