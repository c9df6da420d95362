//! Reading codes from a picture.

use std::collections::BTreeMap;

use crate::attempts::{Attempt, Effort};
use crate::decoders::Decoder;
use crate::{Gray, Point, filter};

/// A code that was read.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// Its text, as it stands in the code.
    pub text: String,
    /// Where it is: the places its decoder tells, in pixels of the picture.
    pub corners: Vec<Point>,
}

/// What came of reading a picture.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Reading {
    /// Every code in view that was read, each once.
    pub codes: Vec<Found>,
    /// True when `keep_going` stopped it before the list was through and nothing had been read.
    pub stopped: bool,
    /// How many attempts were made.
    pub attempts: usize,
}

/// Reads the codes in a picture by a fixed list of attempts, best first.
///
/// The first attempt that reads anything ends the search, with one more look for other codes in view, so that two
/// labels beside each other are not taken for one. `keep_going` is asked before each attempt; the result never
/// depends on anything else but the picture and the effort.
///
/// ```
/// use tagcode::{Code, Effort, Strength, read};
/// let code = Code::of("https://id.example/i/LT-1", Strength::Medium)?;
/// let seen = read(&code.bitmap(6), Effort::Frame, &mut || true);
/// assert_eq!(seen.codes[0].text, "https://id.example/i/LT-1");
/// # Ok::<(), tagcode::DrawError>(())
/// ```
pub fn read(picture: &Gray, effort: Effort, keep_going: &mut dyn FnMut() -> bool) -> Reading {
    let mut scaled = BTreeMap::new();
    let mut reading = Reading::default();
    for attempt in effort.attempts() {
        if !keep_going() {
            reading.stopped = true;
            return reading;
        }
        reading.attempts += 1;
        let side = attempt.side_in(picture);
        let small = scaled.entry(side).or_insert_with(|| at_side(picture, side));
        let found = look(picture, small, attempt, attempt.decoder);
        if !found.is_empty() {
            let mut all = found;
            if attempt.decoder != Decoder::Several && keep_going() {
                all.extend(look(picture, small, attempt, Decoder::Several));
                all.extend(look(picture, small, attempt, Decoder::Other));
            }
            reading.codes = each_once(all);
            return reading;
        }
    }
    reading
}

fn at_side(picture: &Gray, side: usize) -> Gray {
    if side == picture.long_side() { picture.clone() } else { filter::scaled(picture, side) }
}

fn look(picture: &Gray, small: &Gray, attempt: &Attempt, decoder: Decoder) -> Vec<Found> {
    let mut found = decoder.look(&attempt.prepare(small));
    for code in &mut found {
        for corner in &mut code.corners {
            *corner = attempt.back(picture, small, *corner);
        }
    }
    found
}

/// One code may be read by several decoders: the same text at about the same place is the same code.
fn each_once(all: Vec<Found>) -> Vec<Found> {
    let mut codes: Vec<Found> = Vec::new();
    for found in all {
        let middle = Point::middle(&found.corners);
        let same = codes.iter().any(|code| {
            let size = code.corners.first().map_or(0.0, |corner| corner.apart(Point::middle(&code.corners)));
            code.text == found.text && Point::middle(&code.corners).apart(middle) <= size
        });
        if !same {
            codes.push(found);
        }
    }
    codes
}
