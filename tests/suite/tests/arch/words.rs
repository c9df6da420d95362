//! What no file may say: a path of one person's machine, a promise without a date, a file outside the
//! repository.

use crate::house::{TextFile, text_files};

/// Written in halves, so that this file does not say them itself.
fn never_said() -> Vec<(String, &'static str)> {
    [
        ("/ho", "me/", "a path of one machine"),
        ("/ro", "ot/", "a path of one machine"),
        ("/wo", "rk/", "a path of one machine"),
        ("/Us", "ers/", "a path of one machine"),
        ("C:", "\\", "a path of one machine"),
        ("TO", "DO", "a promise without a date"),
        ("FIX", "ME", "a promise without a date"),
        ("XX", "X:", "a promise without a date"),
        ("lorem", " ipsum", "filler"),
    ]
    .map(|(a, b, why)| (format!("{a}{b}"), why))
    .to_vec()
}

/// The one file that may look beside the repository, and what it may find there.
const MAY_LOOK_BESIDE: &str = ".ci/run";

/// Written by others' tools, in their words.
const NOT_OUR_WORDS: [&str; 4] =
    ["Cargo.lock", "ui/package-lock.json", "src-tauri/gen/", "src-tauri/gen/android/"];

/// A path begins where a word does: `./home/` within the pages is no path of a machine.
fn says(text: &str, word: &str) -> bool {
    text.match_indices(word).any(|(at, _)| {
        let before = text.get(..at).and_then(|text| text.chars().next_back());
        !before.is_some_and(|c| c.is_alphanumeric() || "._-/".contains(c))
    })
}

fn breaches(files: &[TextFile]) -> Vec<String> {
    let beside = ["..", "shared"].join("/");
    let never = never_said();
    let mut found = Vec::new();
    for file in files.iter().filter(|file| !NOT_OUR_WORDS.iter().any(|path| file.path.starts_with(path))) {
        for (line, text) in (1..).zip(file.text.lines()) {
            let said = never.iter().filter(|(word, _)| says(text, word));
            found.extend(said.map(|(word, why)| format!("{}:{line} says {word}: {why}", file.path)));
            if text.contains(&beside) && file.path != MAY_LOOK_BESIDE {
                found.push(format!("{}:{line} names a file outside the repository", file.path));
            }
        }
    }
    found
}

#[test]
fn no_file_says_what_it_should_not() {
    let files = text_files("");
    assert!(files.len() > 100, "only {} text files were found", files.len());
    assert_eq!(breaches(&files), Vec::<String>::new());
}

#[test]
fn what_should_not_be_said_is_found() {
    let beside = ["x = ..", "shared", "facts.json"].join("/");
    for (word, _) in never_said() {
        let file = TextFile::invented("a/src/b.rs", &format!("one\n// see {word} here\n"));
        assert_eq!(breaches(&[file]).len(), 1, "{word}");
    }
    assert_eq!(breaches(&[TextFile::invented("a.md", &beside)]).len(), 1);
    assert_eq!(breaches(&[TextFile::invented(".ci/run", &beside)]).len(), 0);
}
