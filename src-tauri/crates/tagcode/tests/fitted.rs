//! What the fitted grid is for: bent and squeezed labels, and codes that are there but cannot be read; and that it can
//! be stopped.
#![allow(clippy::unwrap_used)] // A test may: a panic is the message.

use tagcode::{Code, Effort, Gray, Point, Reading, Strength, read};

const LINK: &str = "https://id.marrowby.example/i/LT-2041";
const OTHER: &str = "https://id.marrowby.example/i/LT-3107";

/// Pixels a module.
const FINE: usize = 8;

fn printed(text: &str) -> Gray {
    Code::of(text, Strength::Quarter).unwrap().bitmap(FINE)
}

fn seen(picture: &Gray, effort: Effort) -> Reading {
    read(picture, effort, &mut || true)
}

fn texts(reading: &Reading) -> Vec<&str> {
    reading.codes.iter().map(|code| code.text.as_str()).collect()
}

/// A label around a pipe, seen from above the middle: its sides turn away, and its rows bow.
fn around_a_pipe(label: &Gray, radius: f64, bow: f64) -> Gray {
    let (width, height) = (label.width(), label.height() + 120);
    let middle = width as f64 / 2.0;
    let reach = radius * (middle / radius).sin();
    Gray::from_fn((reach * 2.0) as usize, height, |x, y| {
        let across = (x as f64 - reach) / radius;
        let from_x = middle + radius * across.asin();
        let from_y = y as f64 - 60.0 - bow * (1.0 - (1.0 - across * across).sqrt()) * radius;
        let inside = from_x >= 0.0 && from_y >= 0.0 && from_y < label.height() as f64;
        if inside { label.at(from_x as isize, from_y as isize) } else { 255 }
    })
}

/// A label with its marks whole and everything between them painted over.
fn painted_over(text: &str) -> Gray {
    let code = Code::of(text, Strength::Quarter).unwrap();
    let (side, last) = (code.side(), code.side() - 9);
    // The only alignment mark of a version 2 to 6 has its middle seven modules from the lower right.
    let aligned = |at: usize| at.abs_diff(side - 7) <= 2;
    Gray::from_fn((side + 8) * FINE, (side + 8) * FINE, |x, y| {
        let module = |at: usize| (at / FINE).checked_sub(4).filter(|at| *at < side);
        let Some((x, y)) = module(x).zip(module(y)) else { return 255 };
        let square = (x < 9 && (y < 9 || y >= last)) || (x >= last && y < 9);
        let kept = square || x == 6 || y == 6 || (aligned(x) && aligned(y));
        if kept && code.dark(x, y) { 0 } else { 255 }
    })
}

fn beside(left: &Gray, right: &Gray) -> Gray {
    Gray::from_fn(left.width() + right.width(), left.height(), |x, y| {
        let (picture, x) = if x < left.width() { (left, x) } else { (right, x - left.width()) };
        picture.at(x as isize, y as isize)
    })
}

fn middle(corners: &[Point]) -> (f32, f32) {
    let count = corners.len() as f32;
    let sum = corners.iter().fold((0.0, 0.0), |sum, at| (sum.0 + at.x, sum.1 + at.y));
    (sum.0 / count, sum.1 / count)
}

#[test]
fn a_label_around_a_pipe_is_read() {
    let label = printed(LINK);
    // From a gentle bend to one whose outer columns are seen at half their width.
    for (radius, bow) in [(1.0, 0.2), (0.7, 0.3), (0.6, 0.5), (0.5, 0.4)] {
        let picture = around_a_pipe(&label, radius * label.width() as f64, bow);
        assert_eq!(texts(&seen(&picture, Effort::Photo)), [LINK], "{radius} {bow}");
    }
}

#[test]
fn a_label_squeezed_by_looking_along_it_is_read() {
    let label = printed(LINK);
    for squeezed in [2, 3, 4] {
        let narrow = Gray::from_fn(label.width() / squeezed, label.height(), |x, y| {
            let sum: usize = (0..squeezed)
                .map(|part| usize::from(label.at((x * squeezed + part) as isize, y as isize)))
                .sum();
            (sum / squeezed) as u8
        });
        assert_eq!(texts(&seen(&narrow, Effort::Full)), [LINK], "{squeezed}");
    }
}

#[test]
fn a_code_that_is_there_but_painted_over_is_told_with_its_place() {
    let reading = seen(&painted_over(OTHER), Effort::Photo);
    assert_eq!((texts(&reading), reading.unread.len()), (Vec::new(), 1));
    let both = beside(&printed(LINK), &painted_over(OTHER));
    let reading = seen(&both, Effort::Photo);
    assert_eq!((texts(&reading), reading.unread.len()), (vec![LINK], 1));
    let (x, y) = middle(&reading.unread[0]);
    let (expected_x, expected_y) = (both.width() as f32 * 0.75, both.height() as f32 / 2.0);
    assert!((x - expected_x).abs() < 16.0 && (y - expected_y).abs() < 16.0, "{x} {y}");
}

#[test]
fn what_was_read_is_never_told_as_unread() {
    let both = beside(&printed(LINK), &printed(OTHER));
    for effort in [Effort::Frame, Effort::Photo, Effort::Full] {
        let reading = seen(&both, effort);
        assert_eq!((texts(&reading).len(), reading.unread.len()), (2, 0), "{effort:?}");
    }
}

#[test]
fn laying_a_grid_asks_between_its_moves_and_stops_at_a_no() {
    let picture = painted_over(OTHER);
    let stopped_at = |no: usize| {
        let mut asked = 0;
        let reading = read(&picture, Effort::Photo, &mut || {
            asked += 1;
            asked != no
        });
        (asked, reading)
    };
    let (asked, whole) = stopped_at(0);
    assert!(!whole.stopped);
    // At its least a grid is begun, then settled flat and bowed, each down to the finest move.
    assert!(asked > whole.attempts + 15, "asked {asked} times in {} attempts", whole.attempts);
    for no in [1, 2, asked / 3, asked / 2, asked - 1] {
        let (asked, reading) = stopped_at(no);
        assert_eq!((asked, reading.stopped), (no, true), "a no asks no more");
    }
}
