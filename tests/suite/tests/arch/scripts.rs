//! How the shell scripts may ask. They run with `pipefail`, so a reader that leaves before all is written ends the writer
//! with a signal and the whole question with a no, now and then: what is asked for was there all the time.

use crate::house::{TextFile, text_files};

/// Readers that leave at the first line that will do.
const LEAVES_EARLY: [&str; 3] = ["grep -q", "grep -m", "head "];

fn is_script(file: &TextFile) -> bool {
    file.path.ends_with(".sh") || file.text.starts_with("#!/usr/bin/env bash")
}

fn breaches(file: &TextFile) -> Vec<String> {
    let lines = (1..).zip(file.text.lines());
    lines
        .flat_map(|(line, text)| text.split('|').skip(1).map(move |reader| (line, reader.trim_start())))
        .filter(|(_, reader)| LEAVES_EARLY.iter().any(|early| reader.starts_with(early)))
        .map(|(line, _)| format!("{}:{line} pipes into a reader that leaves early", file.path))
        .collect()
}

#[test]
fn no_script_asks_a_reader_that_leaves_early() {
    let scripts: Vec<TextFile> = text_files("").into_iter().filter(is_script).collect();
    assert!(scripts.len() > 30, "only {} scripts were found", scripts.len());
    assert_eq!(scripts.iter().flat_map(breaches).collect::<Vec<_>>(), Vec::<String>::new());
}

#[test]
fn a_reader_that_leaves_early_is_found() {
    for line in ["ldconfig -p | grep -q x", "a || b | head -n 1", "a |grep -m1 x"] {
        assert_eq!(breaches(&TextFile::invented("a.sh", line)).len(), 1, "{line}");
    }
    for line in ["[[ $(ldconfig -p) == *x* ]]", "grep -q x file || head -n 1 file", "a | tail -n 1"] {
        let wanted = usize::from(line.contains("|| head"));
        assert_eq!(breaches(&TextFile::invented("a.sh", line)).len(), wanted, "{line}");
    }
}
