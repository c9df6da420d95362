//! All codes of a picture, from their corner squares to their texts.

use super::modules;
use super::search::{self, Fit};
use crate::patience::Patience;
use crate::squares::{self, Square, Triple};
use crate::text::text_of;
use crate::{Found, Gray, Point, filter};

/// The most triples of corner squares that are tried in one picture.
const MOST_TRIPLES: usize = 10;
/// The part of the longer side over which light is levelled.
const LEVELLED_OVER: usize = 20;

/// Codes that a grid was laid over.
#[derive(Debug, Clone, Default)]
pub(crate) struct Fitted {
    /// Those that were read.
    pub(crate) codes: Vec<Found>,
    /// The corners of those that are certainly there but were not read.
    pub(crate) unread: Vec<Vec<Point>>,
}

/// Returns every code that a grid could be laid over before the patience was over.
pub(crate) fn fitted(picture: &Gray, patience: &mut Patience<'_>) -> Fitted {
    let picture = &filter::by_ratio(picture);
    let level = level(picture);
    let mut fitted = Fitted::default();
    let mut read: Vec<Square> = Vec::new();
    for triple in squares::triples(picture).into_iter().take(MOST_TRIPLES) {
        if triple.iter().any(|square| read.iter().any(|other| other.same_as(square))) {
            continue;
        }
        if patience.is_over() {
            break;
        }
        let fits = search::fits(&level, &triple, patience);
        if let Some(code) = read_one(picture, &level, &fits, patience) {
            read.extend(triple);
            fitted.codes.push(code);
        } else if let Some(fit) = fits.first().filter(|fit| fit.score >= CERTAIN) {
            fitted.unread.push(fit.grid.corners());
        }
    }
    fitted
}

fn level(picture: &Gray) -> Gray {
    let half = (picture.long_side() / LEVELLED_OVER / 2).max(4);
    filter::levelled(&filter::blurred(picture), half)
}

/// Returns the corners of codes that are certainly there, read or not, among squares that may belong to one.
pub(crate) fn certain(picture: &Gray, triples: &[Triple], patience: &mut Patience<'_>) -> Vec<Vec<Point>> {
    if triples.is_empty() || patience.is_over() {
        return Vec::new();
    }
    let level = level(&filter::by_ratio(picture));
    let best = |triple: &Triple| search::fits(&level, triple, patience).into_iter().next();
    let fits = triples.iter().take(MOST_TRIPLES).filter_map(best).filter(|fit| fit.score >= CERTAIN);
    fits.map(|fit| fit.grid.corners()).collect()
}

/// From this score on it is worth looking closer.
const SURE: f32 = 0.55;
/// From this score on a code is there, whether it can be read or not; squares of different codes stay below it.
const CERTAIN: f32 = 0.6;

fn read_one(picture: &Gray, level: &Gray, fits: &[Fit], patience: &mut Patience<'_>) -> Option<Found> {
    let read = |fit: &Fit| read_fit(picture, level, fit);
    let sure = |fit: &&Fit| fit.score >= SURE;
    fits.iter()
        .find_map(read)
        .or_else(|| fits.iter().filter(sure).find_map(|fit| read(&search::crisp(level, fit, patience))))
}

fn read_fit(picture: &Gray, level: &Gray, fit: &Fit) -> Option<Found> {
    let side = fit.grid.side();
    let text = modules::readings(picture, level, &fit.grid)
        .find_map(|dark| text_of(side, |x, y| dark.get(y * side + x).copied().unwrap_or(false)))?;
    Some(Found { text, corners: fit.grid.corners() })
}
