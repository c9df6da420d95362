//! The pure crates touch no file, socket, clock or random source: whoever holds a signed record must be able to
//! work it out again, and a test must be able to be the clock. Nor may the domain leave a transcendental function
//! to the platform's own maths library, whose last digits differ from one phone to the next.

use crate::house::{Members, TextFile, members, rust_files};
use crate::source::uses;

const PURE: [&str; 5] = ["domain", "tagcode", "record", "bodies", "exchange"];

/// Paths that reach outside the program.
const OUTSIDE: [&str; 15] = [
    "std::fs",
    "std::net",
    "std::env",
    "std::process",
    "std::thread",
    "std::os",
    "std::time::SystemTime",
    "std::time::Instant",
    "std::collections::hash_map::RandomState",
    "std::io::stdin",
    "rand",
    "getrandom",
    "image::open",
    "image::ImageReader::open",
    "image::save_buffer",
];

/// Crates that bring a clock, a random source, a file or a socket.
const BRING_OUTSIDE: [&str; 16] = [
    "chrono",
    "dirs",
    "getrandom",
    "hyper",
    "mio",
    "rand",
    "rand_core",
    "reqwest",
    "rusqlite",
    "socket2",
    "tauri",
    "tempfile",
    "time",
    "tokio",
    "uuid",
    "walkdir",
];

/// Methods of `f64` that answer differently on different platforms; `libm` has them all.
const NOT_PORTABLE: [&str; 20] = [
    "sin", "cos", "tan", "asin", "acos", "atan", "atan2", "sinh", "cosh", "tanh", "exp", "exp2", "exp_m1",
    "ln", "ln_1p", "log", "log2", "log10", "powf", "cbrt",
];

fn breaches_in(file: &TextFile) -> Vec<String> {
    let uses = uses(&file.path, &file.text);
    let outside =
        |path: &&String| OUTSIDE.iter().any(|kept| *path == kept || path.starts_with(&format!("{kept}::")));
    let mut found: Vec<_> =
        uses.paths.iter().filter(outside).map(|path| format!("{} names {path}", file.path)).collect();
    if file.path.contains("/domain/") {
        let methods = uses.methods.iter().filter(|name| NOT_PORTABLE.contains(&name.as_str()));
        found.extend(
            methods.map(|name| format!("{} calls {name}(), which is not portable: use libm", file.path)),
        );
    }
    found
}

fn breaches_of_needs(house: &Members) -> Vec<String> {
    let pure = PURE.iter().map(|name| (*name, &house[*name]));
    pure.flat_map(|(name, member)| {
        let outside = member.needs.iter().filter(|need| BRING_OUTSIDE.contains(&need.as_str()));
        outside.map(move |need| format!("{name} needs {need}"))
    })
    .collect()
}

#[test]
fn the_pure_crates_touch_nothing_outside() {
    let house = members();
    let mut files = 0;
    let mut found = breaches_of_needs(&house);
    for name in PURE {
        for file in rust_files(&format!("{}/src", house[name].folder)) {
            files += 1;
            found.extend(breaches_in(&file));
        }
    }
    assert!(files > 20, "only {files} files of the pure crates were found");
    assert_eq!(found, Vec::<String>::new());
}

#[test]
fn a_clock_a_file_a_socket_or_a_throw_of_dice_is_found() {
    for text in [
        "fn a() { std::fs::read(\"x\"); }",
        "use std::{fmt, net::TcpStream};",
        "use std::time::{Duration, Instant};",
        "fn a() -> std::time::SystemTime { todo() }",
        "fn a() { assert_eq!(std::env::var(\"A\"), b); }",
        "fn a() -> u8 { rand::random() }",
        "fn a() { std::thread::sleep(b); }",
        "fn a() { image::ImageReader::open(\"x\"); }",
        "fn a(x: f64) -> f64 { x.sin() }",
    ] {
        let file = TextFile::invented("src-tauri/crates/domain/src/invented.rs", text);
        assert_eq!(breaches_in(&file).len(), 1, "{text}");
    }
}

#[test]
fn lengths_of_time_and_square_roots_are_no_breach() {
    let text = "use std::time::Duration; fn a(x: f64) -> f64 { x.sqrt() + libm::sin(x) }";
    let file = TextFile::invented("src-tauri/crates/domain/src/invented.rs", text);
    assert_eq!(breaches_in(&file), Vec::<String>::new());
}

#[test]
fn a_need_that_brings_the_outside_in_is_found() {
    let mut house = members();
    house.get_mut("record").unwrap().needs.insert("getrandom".to_owned());
    assert_eq!(breaches_of_needs(&house), ["record needs getrandom"]);
}
