//! Reading codes from a picture.

use std::collections::BTreeMap;

use crate::attempts::{Attempt, Effort, SECOND_LOOK};
use crate::decoders::Seen;
use crate::patience::Patience;
use crate::squares::Triple;
use crate::{Gray, Point, filter, fit};

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
    /// The corners of codes that are certainly in view but could not be read: going closer, wiping or shading the label
    /// may help.
    pub unread: Vec<Vec<Point>>,
    /// True when something was read and the time was over before it was certain whether other corner squares in view
    /// belong to another code.
    pub unsure: bool,
    /// True when `keep_going` stopped it before the list was through and nothing had been read.
    pub stopped: bool,
    /// How many attempts were made.
    pub attempts: usize,
}

/// Reads the codes in a picture by a fixed list of attempts, best first.
///
/// The first attempt that reads anything ends the search with one more look for other codes in view, whatever the effort;
/// if that shows one that is certainly there but was not read, the search goes on for it a little. So two labels beside
/// each other are not taken for one, as long as the other's corner squares can be made out. `keep_going` is asked before each attempt and, within one, between sets of corner squares and
/// between the moves of a grid, until it says no; the result never depends on anything else but the picture and the effort.
///
/// ```
/// use tagcode::{Code, Effort, Strength, read};
/// let code = Code::of("https://id.example/i/LT-1", Strength::Medium)?;
/// let seen = read(&code.bitmap(6), Effort::Frame, &mut || true);
/// assert_eq!(seen.codes[0].text, "https://id.example/i/LT-1");
/// # Ok::<(), tagcode::DrawError>(())
/// ```
pub fn read(picture: &Gray, effort: Effort, keep_going: &mut dyn FnMut() -> bool) -> Reading {
    let mut patience = Patience::of(keep_going);
    let mut sizes = Sizes::of(picture);
    let mut reading = Reading::default();
    let mut attempts = each_attempt_once(effort.attempts(), picture).into_iter();
    for attempt in attempts.by_ref() {
        if patience.is_over() {
            break;
        }
        reading.attempts += 1;
        let seen = sizes.look(attempt, &mut patience);
        reading.codes = each_once(seen.codes);
        if !seen.unread.is_empty() {
            reading.unread = seen.unread;
        }
        if !reading.codes.is_empty() {
            look_for_others(&mut sizes, &mut reading, (attempt, &seen.left), attempts, &mut patience);
            return reading;
        }
    }
    reading.stopped = patience.was_over();
    reading
}

/// On a small picture several sizes are one.
fn each_attempt_once(all: impl Iterator<Item = &'static Attempt>, picture: &Gray) -> Vec<&'static Attempt> {
    let mut attempts: Vec<&Attempt> = Vec::new();
    for attempt in all {
        if !attempts.iter().any(|made| made.same_as(attempt, picture)) {
            attempts.push(attempt);
        }
    }
    attempts
}

/// How many more attempts a code is worth that is there beside one that was read.
const MOST_MORE: usize = 8;

/// Looks for codes beside those that were read.
fn look_for_others(
    sizes: &mut Sizes<'_>,
    reading: &mut Reading,
    (first, left): (&Attempt, &[Triple]),
    attempts: impl Iterator<Item = &'static Attempt>,
    patience: &mut Patience<'_>,
) {
    drop_read(reading);
    if patience.is_over() {
        reading.unsure = !left.is_empty();
        return;
    }
    let (certain, squares) = if SECOND_LOOK.same_as(first, sizes.picture) {
        (sizes.certain(first, left, patience), !left.is_empty())
    } else {
        let seen = sizes.look(&SECOND_LOOK, patience);
        add(&mut reading.codes, seen.codes);
        (sizes.certain(&SECOND_LOOK, &seen.left, patience), !seen.left.is_empty())
    };
    reading.unsure = squares && certain.is_empty() && patience.was_over();
    reading.unread.retain(|known| !certain.iter().any(|place| same_place(place, known)));
    reading.unread.extend(certain);
    drop_read(reading);
    for attempt in attempts.take(MOST_MORE) {
        if reading.unread.is_empty() || patience.is_over() {
            return;
        }
        reading.attempts += 1;
        let seen = sizes.look(attempt, patience);
        add(&mut reading.codes, seen.codes);
        drop_read(reading);
    }
}

fn add(codes: &mut Vec<Found>, more: Vec<Found>) {
    *codes = each_once(std::mem::take(codes).into_iter().chain(more).collect());
}

/// What was read after all is no longer unread.
fn drop_read(reading: &mut Reading) {
    let codes = &reading.codes;
    reading.unread.retain(|corners| !codes.iter().any(|code| same_place(&code.corners, corners)));
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

    fn look(&mut self, attempt: &Attempt, patience: &mut Patience<'_>) -> Seen {
        let side = attempt.side_in(self.picture);
        if side != self.picture.long_side() && !self.made.contains_key(&side) {
            let from = self.made.get(&STEP).filter(|_| side < STEP).unwrap_or(self.picture);
            let made = filter::scaled(from, side);
            self.made.insert(side, made);
        }
        let sized = self.at(attempt);
        let mut seen = attempt.decoder.look(&attempt.prepare(sized), patience);
        let codes = seen.codes.iter_mut().flat_map(|code| &mut code.corners);
        for corner in codes.chain(seen.unread.iter_mut().flatten()) {
            *corner = attempt.back(self.picture, sized, *corner);
        }
        seen
    }

    fn at(&self, attempt: &Attempt) -> &Gray {
        self.made.get(&attempt.side_in(self.picture)).unwrap_or(self.picture)
    }

    fn certain(&self, attempt: &Attempt, left: &[Triple], patience: &mut Patience<'_>) -> Vec<Vec<Point>> {
        let sized = self.at(attempt);
        let mut certain = fit::certain(sized, left, patience);
        for corner in certain.iter_mut().flatten() {
            *corner = attempt.back(self.picture, sized, *corner);
        }
        certain
    }
}

/// One code may be read by several decoders: the same text at about the same place is the same code.
fn each_once(all: Vec<Found>) -> Vec<Found> {
    let mut codes: Vec<Found> = Vec::new();
    for found in all {
        if !codes.iter().any(|code| code.text == found.text && same_place(&code.corners, &found.corners)) {
            codes.push(found);
        }
    }
    codes
}

/// Tells whether the middle of one place lies within about half the size of the other.
fn same_place(one: &[Point], other: &[Point]) -> bool {
    let middle = Point::middle(one);
    let size = one.first().map_or(0.0, |corner| corner.apart(middle));
    Point::middle(other).apart(middle) <= size
}
