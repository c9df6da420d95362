//! Reading codes from a picture.

use std::collections::BTreeMap;

use crate::attempts::{Attempt, Effort, SECOND_LOOK};
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
    let mut sizes = Sizes::of(picture);
    let mut reading = Reading::default();
    for attempt in effort.attempts() {
        if !keep_going() {
            reading.stopped = true;
            return reading;
        }
        reading.attempts += 1;
        reading.codes = sizes.look(attempt);
        if !reading.codes.is_empty() {
            if effort > Effort::Frame && *attempt != SECOND_LOOK && keep_going() {
                reading.codes.extend(sizes.look(&SECOND_LOOK));
            }
            reading.codes = each_once(reading.codes);
            return reading;
        }
    }
    reading
}

/// A picture at the sizes that attempts look at, each made once.
struct Sizes<'a> {
    picture: &'a Gray,
    made: BTreeMap<usize, Gray>,
}

/// Sizes below this are made from a picture of this size, not from the whole one.
const STEP: usize = 1600;

impl<'a> Sizes<'a> {
    fn of(picture: &'a Gray) -> Sizes<'a> {
        let made = if picture.long_side() >= 2 * STEP {
            BTreeMap::from([(STEP, filter::scaled(picture, STEP))])
        } else {
            BTreeMap::new()
        };
        Sizes { picture, made }
    }

    fn look(&mut self, attempt: &Attempt) -> Vec<Found> {
        let side = attempt.side_in(self.picture);
        if side != self.picture.long_side() && !self.made.contains_key(&side) {
            let from = self.made.get(&STEP).filter(|_| side < STEP).unwrap_or(self.picture);
            let made = filter::scaled(from, side);
            self.made.insert(side, made);
        }
        let sized = self.made.get(&side).unwrap_or(self.picture);
        let mut found = attempt.decoder.look(&attempt.prepare(sized));
        for corner in found.iter_mut().flat_map(|code| &mut code.corners) {
            *corner = attempt.back(self.picture, sized, *corner);
        }
        found
    }
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
