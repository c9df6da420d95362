//! The decoders behind the reader, each brought to one form: texts with their corners.
//!
//! They are libraries that look at untrusted pixels; should one panic, that attempt found nothing and the next goes on.

use std::panic::{AssertUnwindSafe, catch_unwind};

use rxing::common::{GlobalHistogramBinarizer, HybridBinarizer};
use rxing::multi::MultipleBarcodeReader;
use rxing::multi::qrcode::QRCodeMultiReader;
use rxing::qrcode::QRCodeReader;
use rxing::{Binarizer, BinaryBitmap, DecodeHints, Luma8Source, RXingResult, Reader};

use crate::{Found, Gray, Point};

/// Which decoder looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Decoder {
    /// `rxing` with its own binarising by blocks.
    Blocks,
    /// `rxing` on a picture that is black and white already, or evenly lit.
    Plain,
    /// `rxing` looking for several codes.
    Several,
    /// `quircs`: good at perspective.
    Perspective,
    /// `rqrr`: another opinion.
    Other,
}

impl Decoder {
    /// Returns what it finds.
    pub(crate) fn look(self, picture: &Gray) -> Vec<Found> {
        if picture.width() < 21 || picture.height() < 21 {
            return Vec::new();
        }
        let looked = catch_unwind(AssertUnwindSafe(|| match self {
            Decoder::Blocks => one(picture, HybridBinarizer::new),
            Decoder::Plain => one(picture, GlobalHistogramBinarizer::new),
            Decoder::Several => several(picture),
            Decoder::Perspective => perspective(picture),
            Decoder::Other => other(picture),
        }));
        let mut found = looked.unwrap_or_default();
        found.retain(|found| !found.text.is_empty() && !found.text.contains('\u{FFFD}'));
        found
    }
}

fn source(picture: &Gray) -> Option<Luma8Source<'_>> {
    let (width, height) = (u32::try_from(picture.width()).ok()?, u32::try_from(picture.height()).ok()?);
    Luma8Source::new_with_slice(picture.pixels(), width, height).ok()
}

fn hints() -> DecodeHints {
    DecodeHints { TryHarder: Some(true), ..DecodeHints::default() }
}

fn one<'a, B: Binarizer>(picture: &'a Gray, binarize: impl Fn(Luma8Source<'a>) -> B) -> Vec<Found> {
    let Some(source) = source(picture) else { return Vec::new() };
    let mut bitmap = BinaryBitmap::new(binarize(source));
    let read = QRCodeReader::new().decode_with_hints(&mut bitmap, &hints());
    read.ok().as_ref().map(found).into_iter().collect()
}

fn several(picture: &Gray) -> Vec<Found> {
    let Some(source) = source(picture) else { return Vec::new() };
    let mut bitmap = BinaryBitmap::new(HybridBinarizer::new(source));
    let read = QRCodeMultiReader::new().decode_multiple_with_hints(&mut bitmap, &hints());
    read.unwrap_or_default().iter().map(found).collect()
}

fn found(result: &RXingResult) -> Found {
    let corners = result.getPoints().iter().map(|point| Point { x: point.x, y: point.y }).collect();
    Found { text: result.getText().to_owned(), corners }
}

#[allow(clippy::cast_precision_loss)] // Pixels: small numbers.
fn perspective(picture: &Gray) -> Vec<Found> {
    let mut quirc = quircs::Quirc::default();
    let codes = quirc.identify(picture.width(), picture.height(), picture.pixels());
    let read = codes.filter_map(|code| {
        let code = code.ok()?;
        let text = String::from_utf8(code.decode().ok()?.payload).ok()?;
        let corners = code.corners.iter().map(|at| Point { x: at.x as f32, y: at.y as f32 }).collect();
        Some(Found { text, corners })
    });
    read.collect()
}

#[allow(clippy::cast_precision_loss)] // Pixels: small numbers.
fn other(picture: &Gray) -> Vec<Found> {
    let pixel = |x: usize, y: usize| picture.pixels().get(y * picture.width() + x).copied().unwrap_or(255);
    let mut prepared = rqrr::PreparedImage::prepare_from_greyscale(picture.width(), picture.height(), pixel);
    let read = prepared.detect_grids().into_iter().filter_map(|grid| {
        let (_, text) = grid.decode().ok()?;
        let corners = grid.bounds.iter().map(|at| Point { x: at.x as f32, y: at.y as f32 }).collect();
        Some(Found { text, corners })
    });
    read.collect()
}
