//! One label, fitted to its place on the paper.

use super::{Dpi, Framed, LabelError, Mm, Shape, Stock};
use crate::letters::{self, HIGH, WIDE};
use crate::live::REACH;
use crate::{Code, Strength, safe_text};

/// From the frame to the tag, in modules.
const GAP: usize = 2;
/// Dots of a letter's grid from one letter to the next.
const PITCH: usize = WIDE + 1;
/// White kept at each edge of a label: a printer's feed is off by a millimetre or so (common practice, no source).
const EDGE: Mm = Mm(1.5);
/// White kept at each edge of the page: many printers draw nothing nearer to it (common practice, no source).
const PAGE_EDGE: Mm = Mm(5.0);
/// The fewest dots a module: with fewer, ink that runs by a dot changes it by more than a third (common practice, no
/// source).
const LEAST_DOTS: usize = 3;
/// The smallest module, in the manner of IEC 61406-1, 2D-4 (read off a public table of the sizes of such labels; the
/// standard's text was not at hand).
const LEAST_MODULE: Mm = Mm(0.25);
/// Letters are no wider than so many modules a grid dot.
const LARGEST_LETTER: usize = 2;

/// A label fitted to its place: a framed code, and the tag beneath it or beside it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Plate {
    framed: Framed,
    strength: Strength,
    tag: String,
    dpi: Dpi,
    module: usize,
    letter: usize,
    beside: bool,
}

impl Plate {
    /// Returns the label of a tag for a place so large on a printer so fine, to be read from a distance.
    ///
    /// Of the strengths of error correction the highest is taken with which it is still read from there, and then the
    /// largest modules that fit: outdoors, what can be mended counts for more than a finer margin. Modules are a
    /// whole number of the printer's dots, at least three, and at least a quarter of a millimetre. The quiet zone of
    /// four modules is kept on all sides; see [`Framed`] for its lower right corner.
    ///
    /// # Errors
    ///
    /// [`LabelError`] for what cannot be drawn, and for a place too small.
    pub fn fit(link: &str, tag: &str, place: (Mm, Mm), dpi: Dpi, distance: Mm) -> Result<Plate, LabelError> {
        Plate::within(link, tag, (place, (EDGE, EDGE)), dpi, distance)
    }

    /// Returns the label of a tag as [`Plate::fit`] does, for any place of a sheet: so that on the outermost ones nothing is
    /// drawn where a printer may not reach.
    ///
    /// # Errors
    ///
    /// As [`Plate::fit`].
    pub fn on(link: &str, tag: &str, stock: &Stock, dpi: Dpi, distance: Mm) -> Result<Plate, LabelError> {
        let from_page = stock.from_the_page();
        // A label stands on whole dots, up to one off the middle of its place.
        let kept = |from: Mm| Mm((PAGE_EDGE.0 + dpi.length(1).0 - from.0).max(EDGE.0));
        Plate::within(link, tag, (stock.label, (kept(from_page.0), kept(from_page.1))), dpi, distance)
    }

    fn within(
        link: &str,
        tag: &str,
        (place, edges): ((Mm, Mm), (Mm, Mm)),
        dpi: Dpi,
        distance: Mm,
    ) -> Result<Plate, LabelError> {
        let tag = tag.trim();
        let inner = (Mm(place.0.0 - 2.0 * edges.0.0), Mm(place.1.0 - 2.0 * edges.1.0));
        drawable(tag)?;
        let (width, height) = (place.0.0, place.1.0);
        let distance = Mm(distance.0.max(LEAST_MODULE.0 * REACH));
        let mut best: Option<Plate> = None;
        for strength in [Strength::High, Strength::Quarter, Strength::Medium] {
            let Some(plate) = Plate::largest(Code::of(link, strength)?, strength, tag, inner, dpi) else {
                continue;
            };
            if plate.reach() >= distance {
                return Ok(plate);
            }
            if best.as_ref().is_none_or(|best| plate.module > best.module) {
                best = Some(plate);
            }
        }
        let tag = safe_text(tag);
        Err(match best {
            Some(best) => {
                let (reached, wanted) = (whole(best.reach()), whole(distance));
                LabelError::TooSmall { tag, width, height, reached, wanted }
            }
            None => LabelError::TooCoarse { tag, width, height, dpi: dpi.dots() },
        })
    }

    /// The largest that fits, its tag beneath or beside, whichever lets its modules be larger.
    fn largest(code: Code, strength: Strength, tag: &str, inner: (Mm, Mm), dpi: Dpi) -> Option<Plate> {
        let (width, height) = (dpi.within(inner.0), dpi.within(inner.1));
        let framed = Framed::of(code);
        let side = framed.side();
        let letters = tag.chars().count() * PITCH;
        // A module may be no smaller for a long tag: its letters then are.
        let beneath = (width / side).min(height / (side + GAP + HIGH));
        let beside = (height / side).min(width / (side + GAP + letters));
        let module = beneath.max(beside);
        let turned = beside > beneath;
        let letter = if turned {
            (width - (side + GAP) * module) / letters.max(1)
        } else {
            (side * module / letters.max(1)).min((height - (side + GAP) * module) / HIGH)
        };
        let letter = letter.min(module * LARGEST_LETTER);
        let plate = Plate { framed, strength, tag: tag.to_owned(), dpi, module, letter, beside: turned };
        (module >= LEAST_DOTS && letter >= 1).then_some(plate)
    }

    /// Returns its code.
    #[must_use]
    pub fn code(&self) -> &Code {
        self.framed.code()
    }

    /// Returns how strong its error correction is.
    #[must_use]
    pub fn strength(&self) -> Strength {
        self.strength
    }

    /// Returns the tag it shows.
    #[must_use]
    pub fn tag(&self) -> &str {
        &self.tag
    }

    /// Returns the printer it is made for.
    #[must_use]
    pub fn dpi(&self) -> Dpi {
        self.dpi
    }

    /// Returns how wide its modules are.
    #[must_use]
    pub fn module(&self) -> Mm {
        self.dpi.length(self.module)
    }

    /// Returns from where it is read off a frame of the live camera. A photo, which has more pixels, reads it from farther.
    #[must_use]
    pub fn reach(&self) -> Mm {
        Mm(self.module().0 * REACH)
    }

    /// Returns its width and height in dots.
    #[must_use]
    pub fn size(&self) -> (usize, usize) {
        let framed = self.side();
        if self.beside {
            (framed + GAP * self.module + self.written(), framed.max(HIGH * self.letter))
        } else {
            (framed.max(self.written()), framed + GAP * self.module + HIGH * self.letter)
        }
    }

    /// Returns all its ink, within its width and height.
    #[must_use]
    pub fn shapes(&self) -> Vec<Shape> {
        let framed = self.side();
        let (width, height) = self.size();
        let (left, text) = if self.beside {
            (0, (framed + GAP * self.module, (height - HIGH * self.letter) / 2))
        } else {
            ((width - framed) / 2, ((width - self.written()) / 2, framed + GAP * self.module))
        };
        let framed = self.framed.shapes(self.module).into_iter();
        let mut shapes: Vec<Shape> = framed.map(|shape| shape.moved(left, 0)).collect();
        shapes.extend(self.letters().map(|shape| shape.moved(text.0, text.1)));
        shapes
    }

    /// The frame's outer side, in dots.
    fn side(&self) -> usize {
        self.framed.side() * self.module
    }

    /// How wide the tag is: the space after the last letter is none.
    fn written(&self) -> usize {
        (self.tag.chars().count() * PITCH).saturating_sub(1) * self.letter
    }

    fn letters(&self) -> impl Iterator<Item = Shape> + '_ {
        let dot = self.letter;
        self.tag.chars().enumerate().flat_map(move |(at, letter)| {
            let dots = (0..HIGH).flat_map(|y| (0..WIDE).map(move |x| (x, y)));
            dots.filter(move |(x, y)| letters::dot(letter, *x, *y)).map(move |(x, y)| Shape::Block {
                x: (at * PITCH + x) * dot,
                y: y * dot,
                width: dot,
                height: dot,
            })
        })
    }
}

fn drawable(tag: &str) -> Result<(), LabelError> {
    if tag.is_empty() {
        return Err(crate::DrawError::Empty.into());
    }
    match tag.chars().find(|letter| !letters::has(*letter)) {
        None => Ok(()),
        Some(letter) => {
            Err(LabelError::Letter { tag: safe_text(tag), letter: safe_text(&letter.to_string()) })
        }
    }
}

/// A length in whole millimetres, downwards: what is said to be reached is.
#[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss)] // Held at nothing.
fn whole(length: Mm) -> u32 {
    libm::floor(length.0.max(0.0)) as u32
}
