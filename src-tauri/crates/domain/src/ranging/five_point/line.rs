//! How far errors lie from a straight line: from the one through the ends, and from the best there is.

/// A place on the span and the mean error there.
pub(super) type Mean = (f64, f64);

/// Returns how far the errors lie from the line through the first and the last place, at most.
pub(super) fn from_ends(means: &[Mean]) -> Option<f64> {
    let (first, between, last) = split(means)?;
    between.iter().map(|mean| bow(first, *mean, last)).reduce(f64::max)
}

/// Returns how far the errors lie from the line that lies nearest to all of them, at most.
///
/// The line that makes the largest distance smallest is held by three places, between which the distance changes
/// sign; so the answer is the largest that any three of them make (Chebyshev).
pub(super) fn from_best(means: &[Mean]) -> Option<f64> {
    let mut most: Option<f64> = None;
    for (at, first) in means.iter().enumerate() {
        for (to, last) in means.iter().enumerate().skip(at + 2) {
            for between in means.iter().take(to).skip(at + 1) {
                let half = bow(*first, *between, *last) / 2.0;
                most = Some(most.map_or(half, |most| most.max(half)));
            }
        }
    }
    most
}

fn split(means: &[Mean]) -> Option<(Mean, &[Mean], Mean)> {
    match means {
        [first, between @ .., last] if !between.is_empty() => Some((*first, between, *last)),
        _ => None,
    }
}

/// How far a place lies above or below the line through two others.
fn bow(first: Mean, between: Mean, last: Mean) -> f64 {
    let part = (between.0 - first.0) / (last.0 - first.0);
    (between.1 - (first.1 + part * (last.1 - first.1))).abs()
}
