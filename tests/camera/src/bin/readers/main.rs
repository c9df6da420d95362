//! What the comparison of readers needs of ours:
//!
//! - `readers kinds FOLDER EACH` writes the troubled photographs, so many of each kind and strength;
//! - `readers bare FOLDER EACH` writes pictures without a code;
//! - `readers sheets FOLDER EACH` writes sheets of labels, so many on each, and `readers photograph FOLDER INTO`
//!   photographs of what was rendered of them;
//! - `readers read` takes a picture's path a line and answers each with what our reader makes of it.
//!
//! A folder gets an `index.csv` with a line for each picture: file, category, expected (a JSON list of texts).

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::print_stdout,
    reason = "a measuring tool: a panic is the message, and what it prints is what it is for"
)]

mod answer;
mod labels;
mod sets;

fn main() {
    let told: Vec<String> = std::env::args().skip(1).collect();
    let told: Vec<&str> = told.iter().map(String::as_str).collect();
    match told.as_slice() {
        ["kinds", folder, each] => sets::kinds(folder, each.parse().unwrap()),
        ["bare", folder, each] => sets::bare(folder, each.parse().unwrap()),
        ["sheets", folder, each] => labels::sheets(folder, each.parse().unwrap()),
        ["photograph", folder, into] => labels::photographs(folder, into),
        ["read"] => answer::all(),
        _ => panic!(
            "readers kinds FOLDER EACH | readers bare FOLDER EACH | readers sheets FOLDER EACH | \
                    readers photograph FOLDER INTO | readers read"
        ),
    }
}
