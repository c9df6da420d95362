//! The detectors behind the reader, each brought to one form: codes with their texts and corners.
//!
//! They are libraries that look at untrusted pixels; should one panic, that attempt found nothing and the next goes on.

use std::panic::{AssertUnwindSafe, catch_unwind};

use rqrr::BitGrid;
use rxing::common::{BitMatrix, DetectorRXingResult, GlobalHistogramBinarizer, HybridBinarizer};
use rxing::qrcode::cpp_port::detector::SampleQR;
use rxing::qrcode::detector::{Detector, QRCodeDetectorResult};
use rxing::{Binarizer, BinaryBitmap, DecodeHints, Luma8Source};

use crate::fit::{self, Fitted};
use crate::patience::Patience;
use crate::squares::{self, Square, Triple};
use crate::text::{LEAST_SIDE, text_of};
use crate::{Found, Gray, Point};

/// Which detector looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Decoder {
    /// `rxing`'s newer detector with its own black and white by blocks: every code in view.
    Blocks,
    /// The same on a picture that is black and white already, or evenly lit.
    Plain,
    /// `rxing`'s older detector, which asks less of the corner squares; one code.
    Square,
    /// `quircs`: good at perspective.
    Perspective,
    /// `rqrr`: another opinion.
    Other,
    /// Our own: bends a grid to the shades themselves.
    Fitted,
}

/// What one look at a picture gave.
#[derive(Debug, Clone, Default)]
pub(crate) struct Seen {
    /// Codes that were read.
    pub(crate) codes: Vec<Found>,
    /// Corner squares that may belong to codes that were not.
    pub(crate) left: Vec<Triple>,
    /// The corners of codes that are certainly there but were not read.
    pub(crate) unread: Vec<Vec<Point>>,
}

impl Seen {
    fn of(codes: Vec<Found>) -> Seen {
        Seen { codes, ..Seen::default() }
    }
}

impl Decoder {
    /// Returns what it finds; one that takes long, what it found before the patience was over.
    pub(crate) fn look(self, picture: &Gray, patience: &mut Patience<'_>) -> Seen {
        if picture.width() < LEAST_SIDE || picture.height() < LEAST_SIDE {
            return Seen::default();
        }
        let looked = catch_unwind(AssertUnwindSafe(|| match self {
            Decoder::Blocks => every(picture, HybridBinarizer::new, patience),
            Decoder::Plain => every(picture, GlobalHistogramBinarizer::new, patience),
            Decoder::Square => Seen::of(square(picture).into_iter().collect()),
            Decoder::Perspective => Seen::of(perspective(picture)),
            Decoder::Other => Seen::of(other(picture)),
            Decoder::Fitted => {
                let Fitted { codes, unread } = fit::fitted(picture, patience);
                Seen { codes, unread, left: Vec::new() }
            }
        }));
        looked.unwrap_or_default()
    }
}

fn source(picture: &Gray) -> Option<Luma8Source<'_>> {
    let (width, height) = (u32::try_from(picture.width()).ok()?, u32::try_from(picture.height()).ok()?);
    Luma8Source::new_with_slice(picture.pixels(), width, height).ok()
}

fn hints() -> DecodeHints {
    DecodeHints { TryHarder: Some(true), ..DecodeHints::default() }
}

/// Looks at one set of squares after the other; after each that was none, the patience may be over.
fn every<'a, B: Binarizer>(
    picture: &'a Gray,
    binarize: impl Fn(Luma8Source<'a>) -> B,
    patience: &mut Patience<'_>,
) -> Seen {
    let Some(source) = source(picture) else { return Seen::default() };
    let bitmap = BinaryBitmap::new(binarize(source));
    let bits = bitmap.get_black_matrix();
    let mut seen = Seen::default();
    let mut used: Vec<Square> = Vec::new();
    for set in squares::sets(squares::patterns(bits)) {
        let triple = squares::triple(&set);
        if used.iter().any(|square| triple.iter().any(|other| other.same_as(square))) {
            continue;
        }
        match SampleQR(bits, &set).ok().and_then(|sampled| found(&sampled)) {
            Some(code) => {
                used.extend(triple);
                seen.codes.push(code);
            }
            None => {
                seen.left.push(triple);
                if patience.is_over() {
                    break;
                }
            }
        }
    }
    seen.left.retain(|triple| !used.iter().any(|square| triple.iter().any(|other| other.same_as(square))));
    seen
}

fn found(sampled: &QRCodeDetectorResult) -> Option<Found> {
    let bits = sampled.getBits();
    let text = text_of(bits.width() as usize, |x, y| dark(bits, x, y))?;
    Some(Found { text, corners: sampled.getPoints().iter().map(|at| Point { x: at.x, y: at.y }).collect() })
}

/// Its detector tells the middles of the corner squares; the code's corners lie three and a half modules beyond.
fn square(picture: &Gray) -> Option<Found> {
    let bitmap = BinaryBitmap::new(GlobalHistogramBinarizer::new(source(picture)?));
    let seen = Detector::new(bitmap.get_black_matrix()).detect_with_hints(&hints()).ok()?;
    let bits = seen.getBits();
    let text = text_of(bits.width() as usize, |x, y| dark(bits, x, y))?;
    let &[lower, upper, right, ..] = seen.getPoints() else { return None };
    #[allow(clippy::cast_precision_loss)] // A code has at most 177 modules.
    let between = bits.width() as f32 - 7.0;
    let beyond = |across: f32, down: f32| Point {
        x: upper.x + ((right.x - upper.x) * across + (lower.x - upper.x) * down) / between,
        y: upper.y + ((right.y - upper.y) * across + (lower.y - upper.y) * down) / between,
    };
    let (near, far) = (-3.5, between + 3.5);
    let corners = vec![beyond(near, near), beyond(far, near), beyond(far, far), beyond(near, far)];
    Some(Found { text, corners })
}

fn dark(bits: &BitMatrix, x: usize, y: usize) -> bool {
    u32::try_from(x).ok().zip(u32::try_from(y).ok()).is_some_and(|(x, y)| bits.get(x, y))
}

#[allow(clippy::cast_precision_loss)] // Pixels: small numbers.
fn perspective(picture: &Gray) -> Vec<Found> {
    let mut quirc = quircs::Quirc::default();
    let codes = quirc.identify(picture.width(), picture.height(), picture.pixels());
    let read = codes.filter_map(|code| {
        let code = code.ok()?;
        let side = usize::try_from(code.size).ok()?;
        let cell = |at: usize| code.cell_bitmap.get(at / 8).is_some_and(|byte| byte >> (at % 8) & 1 == 1);
        let text = text_of(side, |x, y| cell(y * side + x))?;
        let corners = code.corners.iter().map(|at| Point { x: at.x as f32, y: at.y as f32 }).collect();
        Some(Found { text, corners })
    });
    read.collect()
}

#[allow(clippy::cast_precision_loss)] // Pixels: small numbers.
fn other(picture: &Gray) -> Vec<Found> {
    let pixel = |x: usize, y: usize| picture.pixels().get(y * picture.width() + x).copied().unwrap_or(255);
    let mut prepared = rqrr::PreparedImage::prepare_from_greyscale(picture.width(), picture.height(), pixel);
    let read = prepared.detect_grids().into_iter().filter_map(|seen| {
        let text = text_of(seen.grid.size(), |x, y| seen.grid.bit(y, x))?;
        let corners = seen.bounds.iter().map(|at| Point { x: at.x as f32, y: at.y as f32 }).collect();
        Some(Found { text, corners })
    });
    read.collect()
}
