//! What a slip would have done to the numbers, undone.

use nalgebra::DVector;

use super::super::InputId;
use super::super::student::normal_below;
use super::misfit::Misfit;

/// The numbers as they would stand had a slip not been made: some moved by a known step, and perhaps some together by
/// something within limits.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct Change {
    /// Moves by a known step, each in SI.
    steps: Vec<(InputId, f64)>,
    /// Moves by an unknown part, each so much for one.
    slides: Vec<(InputId, f64)>,
    /// Where the part may lie.
    within: (f64, f64),
    /// The ratio by which all steps multiply their numbers; none for what is no ratio.
    ratio: Option<f64>,
}

/// How well a change mends the misfit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Mended {
    /// Logarithm of the likelihood, up to a constant of the case.
    pub(super) log: f64,
    /// How often honest numbers stay this far apart after it.
    pub(super) chance: f64,
    /// The part by which the sliding numbers moved.
    pub(super) part: f64,
}

impl Change {
    /// Returns a change of one number by a known step.
    pub(super) fn step(input: InputId, by: f64) -> Change {
        Change { steps: vec![(input, by)], ..Change::default() }
    }

    /// Returns a change of several numbers, each by its own step.
    pub(super) fn steps(steps: impl IntoIterator<Item = (InputId, f64)>) -> Change {
        Change { steps: steps.into_iter().collect(), ..Change::default() }
    }

    /// Returns a change by an unknown part between two limits.
    pub(super) fn slide(slides: impl IntoIterator<Item = (InputId, f64)>, from: f64, to: f64) -> Change {
        Change::default().sliding(slides, from, to)
    }

    /// Returns the change with some numbers free to move together between two limits.
    pub(super) fn sliding(
        self,
        slides: impl IntoIterator<Item = (InputId, f64)>,
        from: f64,
        to: f64,
    ) -> Change {
        Change { slides: slides.into_iter().collect(), within: (from, to), ..self }
    }

    /// Returns the change as one whose steps multiply their numbers by a ratio, which must come within about half a per
    /// cent.
    pub(super) fn by_ratio(self, times: f64) -> Change {
        Change { ratio: Some(times), ..self }
    }

    /// Tells how well it mends.
    pub(super) fn mends(&self, misfit: &Misfit) -> Mended {
        let stepped = &misfit.apart + self.sum(misfit, &self.steps);
        if self.slides.is_empty() {
            let chance = if self.near(misfit, &stepped) { misfit.chance(&stepped) } else { 0.0 };
            return Mended { log: self.density() - 0.5 * misfit.squares(&stepped), chance, part: 0.0 };
        }
        let along = self.sum(misfit, &self.slides);
        let (from, to) = self.within;
        let (part, standard) = best(&stepped, &along);
        let within = part.clamp(from, to);
        let left = stepped + &along * within;
        // The likelihood averaged over where the part may lie: what explains everything explains nothing well.
        let room = (to - from) / standard;
        let inside = normal_below((to - part) / standard) - normal_below((from - part) / standard);
        let held = if (from..=to).contains(&part) { inside } else { 0.5 };
        let average = libm::log(2.5066 * held.max(1e-9) / room.max(2.5066));
        Mended { log: average - 0.5 * misfit.squares(&left), chance: misfit.chance(&left), part: within }
    }

    /// Half a per cent of the ratio, or what its uncertainty leaves open: tighter than real disagreements are, wider than
    /// rounding. Common practice, no source. Where the rest knows the number to no more than a seventh, and the ratio did
    /// not move it by eight times what it is known to, no ratio is claimed: nearly nothing is nearly nothing in every
    /// unit.
    fn near(&self, misfit: &Misfit, left: &DVector<f64>) -> bool {
        let Some(times) = self.ratio else { return true };
        let (part, standard) = best(left, &(self.sum(misfit, &self.steps) / (times - 1.0)));
        let known = (0.15 * times).max((times - 1.0).abs() / 8.0);
        standard <= known && part.abs() <= (0.005 * times).max(2.5 * standard)
    }

    /// A number that was to be multiplied by twelve lies twelve times as dense as the one it stands for, and by a twelfth a
    /// twelfth: whatever is nearly nothing would else fit best when it is divided most.
    fn density(&self) -> f64 {
        #[allow(clippy::cast_precision_loss)] // A few readings.
        self.ratio.map_or(0.0, |times| libm::log(times) * self.steps.len() as f64)
    }

    fn sum(&self, misfit: &Misfit, moves: &[(InputId, f64)]) -> DVector<f64> {
        let nothing = DVector::zeros(misfit.apart.len());
        moves.iter().fold(nothing, |sum, (input, by)| sum + misfit.moved(*input, *by))
    }
}

/// A direction along which one SI unit moves the comparisons by less than this part of their uncertainty stands in none
/// of them: what is left of it is rounding.
const IN_NONE: f64 = 1e-8;

/// The part of a direction that mends most, and its standard uncertainty.
pub(super) fn best(apart: &DVector<f64>, along: &DVector<f64>) -> (f64, f64) {
    let size = along.norm_squared();
    if size > IN_NONE * IN_NONE {
        (-along.dot(apart) / size, 1.0 / libm::sqrt(size))
    } else {
        (0.0, f64::INFINITY)
    }
}
