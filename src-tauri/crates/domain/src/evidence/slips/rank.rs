//! Which slip it was.

use uom::si::f64::{Length, Ratio};
use uom::si::length::meter;
use uom::si::ratio::ratio;

use super::super::alarm::NUMBERS;
use super::super::{Case, InputId};
use super::catalogue::{catalogue, given};
use super::change::best;
use super::misfit::Misfit;
use super::{Cause, Scene};

/// A slip explains the numbers when honest ones are left further apart more often than this. It lies above the
/// alarm, so that what changes nothing explains nothing.
const EXPLAINS: f64 = 2.0 * NUMBERS;
/// The most that are named.
const MOST: usize = 4;

/// A slip that would explain the numbers.
#[derive(Debug, Clone, PartialEq)]
pub struct Likely {
    /// What it is.
    pub cause: Cause,
    /// Its share among all that explain them.
    pub share: Ratio,
}

/// Numbers that do not fit each other.
#[derive(Debug, Clone, PartialEq)]
pub struct Misfitting {
    /// How often honest numbers come to be this far apart.
    pub chance: f64,
    /// The likeliest slips, likeliest first; none where no single one explains the numbers.
    pub causes: Vec<Likely>,
    expected: Vec<(InputId, f64)>,
}

impl Misfitting {
    /// Returns what a number would have to be for the others to fit best, in SI; none where nothing says so.
    #[must_use]
    pub fn expected(&self, input: InputId) -> Option<f64> {
        self.expected.iter().find(|(one, _)| *one == input).map(|(_, value)| *value)
    }
}

/// Looks for slips in the numbers of a case; none where they fit, or where nothing compares with anything. All
/// comparisons of a visit are one test, so more of them do not raise more alarms.
#[must_use]
pub fn look(case: &Case, scene: &Scene) -> Option<Misfitting> {
    let misfit = Misfit::of(case)?;
    let chance = misfit.chance(&misfit.apart);
    (chance < NUMBERS).then(|| {
        let places = (0..case.inputs.len()).map(InputId);
        let expected = places.filter_map(|input| Some((input, would_be(case, &misfit, input)?)));
        Misfitting { chance, causes: causes(case, scene, &misfit), expected: expected.collect() }
    })
}

fn would_be(case: &Case, misfit: &Misfit, input: InputId) -> Option<f64> {
    let (part, standard) = best(&misfit.apart, &misfit.moved(input, 1.0));
    standard.is_finite().then(|| given(case, input) + part)
}

fn causes(case: &Case, scene: &Scene, misfit: &Misfit) -> Vec<Likely> {
    let mut scored: Vec<(Cause, f64)> = catalogue(case, scene)
        .into_iter()
        .filter_map(|tried| {
            let mended = tried.change.mends(misfit);
            let score = mended.log + libm::log(tried.weight);
            (mended.chance > EXPLAINS).then(|| (sized(tried.cause, mended.part), score))
        })
        .collect();
    // A stable sort: what the numbers leave quite open stays in the order of the catalogue.
    scored.sort_by(|one, other| other.1.total_cmp(&one.1));
    let total: f64 = scored.iter().map(|(_, score)| libm::exp(*score)).sum();
    let mut named: Vec<Likely> = Vec::new();
    for (cause, score) in scored {
        let share = Ratio::new::<ratio>(if total > 0.0 { libm::exp(score) / total } else { 0.0 });
        match named.iter_mut().find(|named| named.cause.same(&cause)) {
            Some(known) => known.share += share,
            None => named.push(Likely { cause, share }),
        }
    }
    named.truncate(MOST);
    named
}

/// Writes into a cause how large it came out.
fn sized(cause: Cause, part: f64) -> Cause {
    let height = Length::new::<meter>(part);
    match cause {
        Cause::Air { .. } => Cause::Air { height },
        Cause::Drained { .. } => Cause::Drained { height },
        Cause::StubLeft { .. } => Cause::StubLeft { height },
        Cause::Density { .. } => Cause::Density { times: Ratio::new::<ratio>(1.0 / (1.0 + part)) },
        Cause::Scaled { .. } => Cause::Scaled { times: Ratio::new::<ratio>(1.0 - part) },
        other => other,
    }
}
