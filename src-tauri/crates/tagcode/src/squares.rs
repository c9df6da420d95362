//! Corner squares, and which three of them belong to one code.

use rxing::common::cpp_essentials::ConcentricPattern;
use rxing::common::{BitMatrix, HybridBinarizer};
use rxing::qrcode::cpp_port::detector::{FindFinderPatterns, FinderPatternSet, GenerateFinderPatternSets};
use rxing::{BinaryBitmap, Luma8Source};

use crate::{Gray, Point, filter};

/// The most squares that are put together to triples: a texture full of squares holds no label.
const MOST_SQUARES: usize = 60;

/// A corner square: its middle, and how many pixels wide it is.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Square {
    pub(crate) middle: Point,
    pub(crate) size: f32,
}

impl Square {
    /// Tells whether two are one, seen twice.
    pub(crate) fn same_as(&self, other: &Square) -> bool {
        self.middle.apart(other.middle) < self.size.max(other.size) / 2.0
    }
}

/// Upper left, upper right and lower left.
pub(crate) type Triple = [Square; 3];

/// Returns triples of squares that may belong to one code, most likely first.
pub(crate) fn triples(picture: &Gray) -> Vec<Triple> {
    let half = |part: usize| (picture.long_side() / part / 2).max(2);
    let ways = [
        blocks(picture),
        bits(&filter::mean_threshold(&filter::blurred(picture), half(16), 0)),
        bits(&filter::mean_threshold(picture, half(32), 4)),
    ];
    let mut all: Vec<ConcentricPattern> = Vec::new();
    for way in ways.into_iter().flatten() {
        for pattern in patterns(&way) {
            if !all.iter().any(|other| square(other).same_as(&square(&pattern))) {
                all.push(pattern);
            }
        }
    }
    sets(all).iter().map(triple).collect()
}

/// Returns the corner squares of a black and white picture.
pub(crate) fn patterns(bits: &BitMatrix) -> Vec<ConcentricPattern> {
    FindFinderPatterns(bits, true, 0)
}

/// Puts squares together to triples, most likely first.
pub(crate) fn sets(mut all: Vec<ConcentricPattern>) -> Vec<FinderPatternSet> {
    all.sort_by_key(|pattern| std::cmp::Reverse(pattern.size));
    all.truncate(MOST_SQUARES);
    GenerateFinderPatternSets(&mut all)
}

/// Returns the squares of a set.
pub(crate) fn triple(set: &FinderPatternSet) -> Triple {
    [square(&set.tl), square(&set.tr), square(&set.bl)]
}

#[allow(clippy::cast_precision_loss)] // Pixels: small numbers.
fn square(pattern: &ConcentricPattern) -> Square {
    Square { middle: Point { x: pattern.p.x, y: pattern.p.y }, size: pattern.size as f32 }
}

fn blocks(picture: &Gray) -> Option<BitMatrix> {
    let (width, height) = (u32::try_from(picture.width()).ok()?, u32::try_from(picture.height()).ok()?);
    let source = Luma8Source::new_with_slice(picture.pixels(), width, height).ok()?;
    Some(BinaryBitmap::new(HybridBinarizer::new(source)).get_black_matrix().clone())
}

fn bits(picture: &Gray) -> Option<BitMatrix> {
    let (width, height) = (u32::try_from(picture.width()).ok()?, u32::try_from(picture.height()).ok()?);
    let mut bits = BitMatrix::new(width, height).ok()?;
    for (y, row) in (0..).zip(picture.rows()) {
        for (x, _) in (0..).zip(row).filter(|(_, pixel)| **pixel == 0) {
            bits.set(x, y);
        }
    }
    Some(bits)
}
