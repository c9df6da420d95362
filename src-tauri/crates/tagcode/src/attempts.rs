//! The fixed list of attempts, best first.

use crate::Gray;
use crate::decoders::Decoder;
use crate::filter;

/// How far the list is gone through.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Effort {
    /// What a camera frame is worth: the next one comes soon.
    Frame,
    /// What a photo is worth.
    Photo,
    /// Everything.
    Full,
}

/// What is done to the picture.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Prepared {
    /// Nothing.
    AsIs,
    /// Blurred over three pixels, then black where darker than the mean over a square of the side's fraction.
    Blurred(usize, i64),
    /// The same without the blur.
    Threshold(usize, i64),
    /// The same on shades that stand for ratios of light, against shadows.
    Even(usize, i64),
    /// Light levelled over a square of the side's fraction.
    Levelled(usize),
    /// Sharpened, then light levelled.
    Sharpened(usize),
    /// Dark specks taken out, then threshold.
    Opened(usize),
    /// Light specks taken out, then threshold.
    Closed(usize),
    /// Turned by an eighth, then blurred and threshold.
    Turned(usize),
    /// Twice as wide, and a little blurred: a label seen from far aside becomes square again.
    Wider,
    /// Twice as high, the same.
    Higher,
    /// Dark and light changed over.
    Inverted,
    /// Changed over, blurred and threshold.
    InvertedThreshold(usize),
}

/// One attempt.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Attempt {
    /// The longer side it looks at.
    pub(crate) side: usize,
    pub(crate) prepared: Prepared,
    pub(crate) decoder: Decoder,
    /// Whether a smaller picture is made larger for it.
    pub(crate) grow: bool,
}

const fn attempt(side: usize, prepared: Prepared, decoder: Decoder) -> Attempt {
    Attempt { side, prepared, decoder, grow: true }
}

use Decoder::{Blocks, Fitted, Other, Perspective, Plain, Square};
use Prepared::{
    AsIs, Blurred, Closed, Even, Higher, Inverted, InvertedThreshold, Levelled, Opened, Sharpened, Threshold,
    Turned, Wider,
};

/// Best first: what reads most pictures soonest, then what reads what the others miss.
const LIST: &[Attempt] = &[
    // A small picture as it is: to make it larger, or a little smaller, takes longer than reading it does.
    Attempt { grow: false, ..attempt(400, AsIs, Blocks) },
    attempt(400, AsIs, Blocks),
    attempt(400, Threshold(32, 4), Plain),
    attempt(800, AsIs, Blocks),
    attempt(400, Inverted, Blocks),
    attempt(400, Threshold(16, 0), Square),
    // A frame stops here.
    attempt(800, Threshold(32, 4), Plain),
    attempt(800, AsIs, Perspective),
    attempt(800, Even(48, 4), Plain),
    attempt(300, AsIs, Plain),
    attempt(600, AsIs, Fitted),
    attempt(800, Blurred(8, 0), Plain),
    attempt(1200, AsIs, Blocks),
    attempt(800, Blurred(32, 0), Perspective),
    attempt(800, Inverted, Blocks),
    attempt(1200, Threshold(48, 4), Plain),
    // A photo stops here.
    attempt(1200, AsIs, Fitted),
    attempt(1200, Wider, Fitted),
    attempt(1200, Higher, Fitted),
    attempt(1200, AsIs, Perspective),
    attempt(1600, AsIs, Blocks),
    attempt(800, Turned(16), Square),
    attempt(800, Threshold(16, 0), Square),
    attempt(500, AsIs, Perspective),
    attempt(500, Sharpened(10), Plain),
    attempt(800, Opened(16), Plain),
    attempt(800, Closed(16), Plain),
    attempt(800, InvertedThreshold(16), Plain),
    attempt(800, Inverted, Fitted),
    attempt(1200, Blurred(16, 0), Plain),
    attempt(1600, Threshold(48, 4), Plain),
    attempt(800, Levelled(16), Blocks),
    attempt(800, Levelled(8), Other),
    attempt(800, Threshold(4, 0), Perspective),
    attempt(800, Threshold(8, 12), Plain),
    attempt(2400, AsIs, Fitted),
    attempt(FULL_SIZE, AsIs, Blocks),
    attempt(FULL_SIZE, Threshold(64, 4), Plain),
    attempt(FULL_SIZE, AsIs, Perspective),
];

/// Once something was read: a second code may be too small, or too unevenly lit, for the attempt that read the first.
///
/// A small picture is not made larger for it: what the first look missed is not there to be found.
pub(crate) const SECOND_LOOK: Attempt = Attempt { grow: false, ..attempt(800, AsIs, Blocks) };

/// A picture no larger than this is looked at as it is, where an attempt does not make it larger.
const WHOLE: usize = 640;
/// Stands for the picture as it came, up to a size that bounds the work.
const FULL_SIZE: usize = 4000;
const FRAME: usize = 6;
const PHOTO: usize = 16;
/// A small picture is made larger at most so many times.
const MOST_GROWTH: usize = 3;

impl Effort {
    pub(crate) fn attempts(self) -> impl Iterator<Item = &'static Attempt> {
        LIST.iter().take(match self {
            Effort::Frame => FRAME,
            Effort::Photo => PHOTO,
            Effort::Full => LIST.len(),
        })
    }
}

impl Attempt {
    /// Tells whether another does the same to a picture: how large it may be made differs for small ones only.
    pub(crate) fn same_as(&self, other: &Attempt, picture: &Gray) -> bool {
        (self.prepared, self.decoder) == (other.prepared, other.decoder)
            && self.side_in(picture) == other.side_in(picture)
    }

    /// Returns the side this attempt looks at in a picture.
    pub(crate) fn side_in(&self, picture: &Gray) -> usize {
        let long = picture.long_side().max(1);
        if !self.grow && long <= WHOLE {
            return long;
        }
        let most = if self.grow && self.side != FULL_SIZE { long * MOST_GROWTH } else { long };
        self.side.min(most)
    }

    /// Returns the picture prepared; `scaled` has the side that [`Attempt::side_in`] gave.
    pub(crate) fn prepare(&self, scaled: &Gray) -> Gray {
        let half = |part: usize| (scaled.long_side() / part / 2).max(2);
        let soft = |picture: &Gray, part, offset| {
            filter::mean_threshold(&filter::blurred(picture), half(part), offset)
        };
        match self.prepared {
            AsIs => scaled.clone(),
            Blurred(part, offset) => soft(scaled, part, offset),
            Threshold(part, offset) => filter::mean_threshold(scaled, half(part), offset),
            Even(part, offset) => soft(&filter::by_ratio(scaled), part, offset),
            Levelled(part) => filter::levelled(scaled, half(part)),
            Sharpened(part) => filter::levelled(&filter::sharpened(scaled), half(part)),
            Opened(part) => filter::mean_threshold(&filter::opened(scaled, true), half(part), 0),
            Closed(part) => filter::mean_threshold(&filter::opened(scaled, false), half(part), 0),
            Turned(part) => soft(&filter::turned(scaled), part, 0),
            Wider => filter::blurred(&filter::stretched(scaled, true)),
            Higher => filter::blurred(&filter::stretched(scaled, false)),
            Inverted => filter::inverted(scaled),
            InvertedThreshold(part) => soft(&filter::inverted(scaled), part, 0),
        }
    }

    /// Brings a place found in the prepared picture back to the picture it came from.
    pub(crate) fn back(&self, picture: &Gray, scaled: &Gray, at: crate::Point) -> crate::Point {
        #[allow(clippy::cast_precision_loss)] // Pixels: small numbers.
        let (w, h, fx) = (
            scaled.width() as f32,
            scaled.height() as f32,
            picture.width() as f32 / (scaled.width().max(1) as f32),
        );
        let (x, y) = if let Turned(_) = self.prepared {
            let half = core::f32::consts::FRAC_1_SQRT_2;
            let middle = libm::ceilf((w + h) * half) / 2.0;
            let (dx, dy) = (at.x - middle, at.y - middle);
            ((dx + dy) * half + w / 2.0, (dy - dx) * half + h / 2.0)
        } else {
            let shrink = |stretched: bool| if stretched { 0.5 } else { 1.0 };
            (at.x * shrink(self.prepared == Wider), at.y * shrink(self.prepared == Higher))
        };
        crate::Point { x: x * fx, y: y * fx }
    }
}
