//! How long files and functions may be, the pages' files too, what `lib.rs` and `mod.rs` are for, and names no file may have.

use std::path::Path;

use syn::Item;

use crate::house::{TextFile, members, rust_files, text_files};
use crate::source::{parse, uses};

const LONGEST_FILE: usize = 600;
const FILE_MEDIAN: usize = 200;
const FUNCTION_MEDIAN: usize = 10;
const FUNCTION_NINE_TENTHS: usize = 40;

/// Names that say nothing of what is inside, so that anything ends up there.
const SAY_NOTHING: [&str; 8] = ["utils", "util", "helpers", "helper", "common", "misc", "shared", "stuff"];

/// The phone enters the shell through its library, so the attribute that makes the entry must stand there.
const ENTRY: &str = "src-tauri/src/lib.rs";

fn our_rust_files() -> Vec<TextFile> {
    let mut files: Vec<_> =
        ["src-tauri", "tests", "demo"].iter().flat_map(|folder| rust_files(folder)).collect();
    // `src-tauri/gen` is written by the toolkit's own tools.
    files.retain(|file| !file.path.starts_with("src-tauri/gen/"));
    files
}

/// What is written by hand of the pages; the types are generated, and the views are what the core gave.
fn our_page_files() -> Vec<TextFile> {
    let mut files = text_files("ui");
    let written =
        |file: &TextFile| [".svelte", ".ts", ".mjs", ".css"].iter().any(|kind| file.path.ends_with(kind));
    files.retain(|file| written(file) && !file.path.starts_with("ui/src/api/types/"));
    files
}

/// The value that a share of all values does not exceed.
fn quantile(mut values: Vec<usize>, percent: usize) -> usize {
    values.sort_unstable();
    let at = (values.len() * percent).div_ceil(100).saturating_sub(1);
    values.get(at).copied().unwrap_or(0)
}

fn too_long(files: &[TextFile]) -> Vec<String> {
    let lines = |file: &TextFile| file.text.lines().count();
    let over = files.iter().filter(|file| lines(file) > LONGEST_FILE);
    over.map(|file| format!("{} has {} lines", file.path, lines(file))).collect()
}

fn names_that_say_nothing(files: &[TextFile]) -> Vec<String> {
    let empty = |file: &&TextFile| {
        let path = Path::new(&file.path);
        path.components().any(|part| {
            let part = Path::new(part.as_os_str()).file_stem().unwrap_or_default().to_string_lossy();
            SAY_NOTHING.contains(&part.as_ref())
        })
    };
    files.iter().filter(empty).map(|file| file.path.clone()).collect()
}

/// `lib.rs` and `mod.rs` list, re-export and explain; logic lives in named files.
fn logic_in_lists(files: &[TextFile]) -> Vec<String> {
    let lists = files.iter().filter(|file| file.path.ends_with("/lib.rs") || file.path.ends_with("/mod.rs"));
    let logic = |item: &Item| matches!(item, Item::Fn(_) | Item::Impl(_));
    let breach =
        lists.filter(|file| file.path != ENTRY && parse(&file.path, &file.text).items.iter().any(logic));
    breach.map(|file| file.path.clone()).collect()
}

#[test]
fn files_are_short() {
    let files = our_rust_files();
    let lines: Vec<_> = files.iter().map(|file| file.text.lines().count()).collect();
    let (median, nine_tenths) = (quantile(lines.clone(), 50), quantile(lines, 90));
    println!("{} files: median {median} lines, nine tenths within {nine_tenths}", files.len());
    assert!(files.len() > 50);
    assert!(median <= FILE_MEDIAN, "the median file has {median} lines");
    assert_eq!(too_long(&files), Vec::<String>::new());
    let pages = our_page_files();
    assert!(pages.len() > 100, "{}", pages.len());
    assert_eq!(too_long(&pages), Vec::<String>::new());
}

#[test]
fn functions_are_short() {
    let house = members();
    let files = house.values().flat_map(|member| rust_files(&format!("{}/src", member.folder)));
    let mut functions: Vec<_> = files
        .flat_map(|file| {
            let path = file.path.clone();
            uses(&file.path, &file.text)
                .functions
                .into_iter()
                .map(move |function| (function.lines, function.name, path.clone()))
        })
        .collect();
    functions.sort();
    let lines: Vec<_> = functions.iter().map(|(lines, ..)| *lines).collect();
    let (median, nine_tenths) = (quantile(lines.clone(), 50), quantile(lines, 90));
    println!("{} functions: median {median} lines, nine tenths within {nine_tenths}", functions.len());
    for (lines, name, path) in functions.iter().rev().take(10) {
        println!("  {lines} {name} in {path}");
    }
    assert!(functions.len() > 100);
    assert!(median <= FUNCTION_MEDIAN, "the median function has {median} lines");
    assert!(nine_tenths <= FUNCTION_NINE_TENTHS, "nine tenths of the functions reach {nine_tenths} lines");
}

#[test]
fn files_have_names_and_lists_hold_no_logic() {
    let files = our_rust_files();
    assert_eq!(names_that_say_nothing(&files), Vec::<String>::new());
    assert_eq!(logic_in_lists(&files), Vec::<String>::new());
}

#[test]
fn a_file_that_is_too_long_ill_named_or_holds_logic_in_a_list_is_found() {
    let long = TextFile::invented("a/src/long.rs", &"//\n".repeat(LONGEST_FILE + 1));
    assert_eq!(too_long(&[long]), ["a/src/long.rs has 601 lines"]);
    let ill = [TextFile::invented("a/src/helpers/b.rs", ""), TextFile::invented("a/src/utils.rs", "")];
    assert_eq!(names_that_say_nothing(&ill), ["a/src/helpers/b.rs", "a/src/utils.rs"]);
    let lists = [
        TextFile::invented("a/src/lib.rs", "mod b; pub use b::C;"),
        TextFile::invented("a/src/d/mod.rs", "mod e; fn f() {}"),
    ];
    assert_eq!(logic_in_lists(&lists), ["a/src/d/mod.rs"]);
}

#[test]
fn quantiles_are_those_of_the_nearest_rank() {
    assert_eq!(quantile((1..=10).collect(), 50), 5);
    assert_eq!(quantile((1..=10).collect(), 90), 9);
    assert_eq!(quantile(vec![7], 90), 7);
}
