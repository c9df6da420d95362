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
    /// True where the numbers must be known to a seventh for the ratio to be claimed, however far it moved them.
    known: bool,
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

    /// Returns the change as one that is claimed only of numbers which the rest knows to a seventh. What a display shows at an
    /// empty tank should be nothing, and a twelfth of anything small is nothing.
    pub(super) fn of_known(self) -> Change {
        Change { known: true, ..self }
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
        let average = averaged((from - within) / standard, (to - within) / standard);
        let log = libm::log(average) - 0.5 * misfit.squares(&left);
        // What cannot slide, or stands in no comparison, explains nothing.
        let chance = if average > 0.0 { misfit.chance(&left) } else { 0.0 };
        Mended { log, chance, part: within }
    }

    /// Half a per cent of the ratio, or what its uncertainty leaves open: tighter than real disagreements are, wider than
    /// rounding. Common practice, no source. Where the rest knows the number to no more than a seventh, and the ratio did
    /// not move it by eight times what it is known to, no ratio is claimed: nearly nothing is nearly nothing in every
    /// unit.
    fn near(&self, misfit: &Misfit, left: &DVector<f64>) -> bool {
        let Some(times) = self.ratio else { return true };
        let (part, standard) = best(left, &(self.sum(misfit, &self.steps) / (times - 1.0)));
        let moved = if self.known { 0.0 } else { (times - 1.0).abs() / 8.0 };
        let known = (0.15 * times).max(moved);
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

/// The likelihood averaged over where a part may lie, over that at its best: what explains everything explains nothing
/// well. The limits are told from the best that lies between them, in standard uncertainties of the part. Nothing is
/// likely where nothing can move.
fn averaged(from: f64, to: f64) -> f64 {
    let room = to - from;
    if room > 0.0 { ROOT_OF_TWO_PI * (normal_below(to) - normal_below(from)) / room } else { 0.0 }
}

/// What the normal curve holds below it, over its height.
const ROOT_OF_TWO_PI: f64 = 2.506_628_274_631;

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

#[cfg(test)]
impl Change {
    /// Tells whether another is the same but for rounding.
    pub(super) fn nearly(&self, other: &Change) -> bool {
        let alike = |one: &[(InputId, f64)], two: &[(InputId, f64)]| {
            let near = |((one, by), (two, to)): (&(InputId, f64), &(InputId, f64))| {
                one == two && (by - to).abs() <= 1e-9 * to.abs().max(1e-3)
            };
            one.len() == two.len() && one.iter().zip(two).all(near)
        };
        alike(&self.steps, &other.steps)
            && alike(&self.slides, &other.slides)
            && Change { steps: Vec::new(), slides: Vec::new(), ..self.clone() }
                == Change { steps: Vec::new(), slides: Vec::new(), ..other.clone() }
    }
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::f64::Pressure;
    use uom::si::pressure::pascal;

    use super::super::super::{Case, Input, Spread};
    use super::*;

    /// Two numbers that say the same thing, the one to 3 Pa and the other to 4 Pa, and a third that says nothing: the two are
    /// known to differ by nothing to 5 Pa.
    fn two(one: f64, other: f64) -> (Misfit, [InputId; 3]) {
        let mut case = Case::new();
        let mut input = |value, standard| {
            let spread = Spread::Standard(Pressure::new::<pascal>(standard));
            case.input(Input::pressure("number", Pressure::new::<pascal>(value), spread))
        };
        let numbers = [input(one, 3.0), input(other, 4.0), input(7.0, 1.0)];
        numbers[..2].iter().for_each(|number| case.allow_zero(&[*number]));
        (Misfit::of(&case).unwrap(), numbers)
    }

    fn holds(found: Mended, log: f64, chance: f64, part: f64) {
        for (found, expected) in [(found.log, log), (found.chance, chance), (found.part, part)] {
            assert!((found - expected).abs() < 2e-6, "{found} where {expected} was expected");
        }
    }

    /// 10 Pa apart, two standard deviations. One is exceeded once in 3.15 times (0.317 311), two once in 22 (0.045 500).
    #[rstest]
    #[case::all_of_it(-10.0, 0.0, 0.0, 1.0)]
    #[case::from_the_other(0.0, 10.0, 0.0, 1.0)]
    #[case::from_both(-4.0, 6.0, 0.0, 1.0)]
    #[case::half_of_it(-5.0, 0.0, -0.5, 0.317_311)]
    #[case::nothing(0.0, 0.0, -2.0, 0.045_500)]
    fn known_steps_mend_what_they_take_away(
        #[case] one: f64,
        #[case] other: f64,
        #[case] log: f64,
        #[case] chance: f64,
    ) {
        let (misfit, [first, second, stranger]) = two(10.0, 0.0);
        let change = Change::steps([(first, one), (second, other), (stranger, 1e6)]);
        holds(change.mends(&misfit), log, chance, 0.0);
    }

    /// The normal distribution stays below -2, -1, 1 and 3 with 0.022 750, 0.158 655, 0.841 345 and 0.998 650; the curve holds
    /// 2.506 628 times its height.
    #[rstest]
    // Best is 10 Pa less, which lies two deviations over the least and one under the most.
    #[case::between_the_limits(-20.0, -5.0, libm::log(2.506_628 * (0.841_345 - 0.022_750) / 3.0), 1.0, -10.0)]
    #[case::nearer_the_least(-15.0, 5.0, libm::log(2.506_628 * (0.998_650 - 0.158_655) / 4.0), 1.0, -10.0)]
    // Best is beyond what there may be: half the curve, cut off at six deviations or at two (0.477 250), and one deviation left.
    #[case::beyond_the_least(-5.0, 25.0, libm::log(2.506_628 * 0.5 / 6.0) - 0.5, 0.317_311, -5.0)]
    #[case::beyond_the_most(-25.0, -15.0, libm::log(2.506_628 * 0.477_250 / 2.0) - 0.5, 0.317_311, -15.0)]
    fn what_slides_is_as_likely_as_the_average_over_its_room(
        #[case] from: f64,
        #[case] to: f64,
        #[case] log: f64,
        #[case] chance: f64,
        #[case] part: f64,
    ) {
        let (misfit, [first, ..]) = two(10.0, 0.0);
        holds(Change::slide([(first, 1.0)], from, to).mends(&misfit), log, chance, part);
        // The same in another number, the other way round and half as fast, after a step of 2 Pa that undoes itself.
        let (misfit, [first, second, _]) = two(12.0, 0.0);
        let other = Change::step(first, -2.0).sliding([(second, -0.5)], 2.0 * from, 2.0 * to);
        holds(other.mends(&misfit), log, chance, 2.0 * part);
    }

    #[test]
    fn where_there_is_hardly_room_what_fits_is_likeliest() {
        let (misfit, [first, _, stranger]) = two(10.0, 0.0);
        let log = |near: f64| Change::slide([(first, 1.0)], near - 0.5, near + 0.5).mends(&misfit).log;
        // A tenth of a deviation either way lowers the curve by a thousandth or so.
        assert!(log(-10.0) > -0.01 && log(-10.0) > log(-9.0) && log(-10.0) > log(-11.0));
        // What stands in no comparison explains none, and neither does what has no room at all.
        for nothing in
            [Change::slide([(stranger, 1.0)], -1e6, 1e6), Change::slide([(first, 1.0)], -10.0, -10.0)]
        {
            let mended = nothing.mends(&misfit);
            assert!(mended.chance == 0.0 && mended.log < -1e300, "{mended:?}");
        }
    }

    /// A number of `value` Pa that is to be `times` as much, beside one that says `off` Pa more than that.
    fn scaled(value: f64, times: f64, off: f64) -> (Misfit, Change) {
        let (misfit, [first, ..]) = two(value, value * times + off);
        (misfit, Change::step(first, value * (times - 1.0)).by_ratio(times))
    }

    /// Known to 5 Pa, that is to 5 / value of a ratio.
    #[rstest]
    // A hundredth of the number is 0.05 of twelve: a ratio may be off by 2.5 times that, 12.5 Pa.
    #[case::off_by_chance(100.0, 12.0, 12.0, true)]
    #[case::off_by_more(100.0, 12.0, 13.0, false)]
    #[case::short_by_more(100.0, 12.0, -13.0, false)]
    // Half a per cent of twelve is 0.06, which of 1000 Pa is 60 Pa, and of a twelfth 0.42 Pa: then 12.5 Pa are more.
    #[case::off_by_half_a_per_cent(1000.0, 12.0, 59.0, true)]
    #[case::off_by_more_than_that(1000.0, 12.0, 61.0, false)]
    #[case::a_twelfth_off_by_chance(1000.0, 1.0 / 12.0, 12.0, true)]
    #[case::a_twelfth_off_by_more(1000.0, 1.0 / 12.0, 13.0, false)]
    // A seventh of twelve, 0.15 of it, is 1.8: 5 Pa of 3 Pa are 1.67, of 2.5 Pa 2.
    #[case::known_to_a_seventh(3.0, 12.0, 0.0, true)]
    #[case::not_known_to_a_seventh(2.5, 12.0, 0.0, false)]
    // Eleven twelfths are eight times 0.1146: 5 Pa of 50 Pa are 0.1, of 40 Pa 0.125.
    #[case::moved_by_eight_times_that(50.0, 1.0 / 12.0, 0.0, true)]
    #[case::not_moved_by_that(40.0, 1.0 / 12.0, 0.0, false)]
    fn a_ratio_is_claimed_where_it_comes_out(
        #[case] value: f64,
        #[case] times: f64,
        #[case] off: f64,
        #[case] claimed: bool,
    ) {
        let (misfit, change) = scaled(value, times, off);
        let mended = change.mends(&misfit);
        assert_eq!(mended.chance > 0.0, claimed, "{mended:?}");
        // The likelihood is that of what is left, as dense as the number lies.
        let log = libm::log(times) - 0.5 * (off / 5.0) * (off / 5.0);
        assert!((mended.log - log).abs() < 1e-5, "{mended:?} where {log} was expected");
    }

    #[test]
    fn of_known_numbers_alone_a_ratio_is_claimed_where_they_are_known_to_a_seventh() {
        // 0.15 of a twelfth is 0.0125: 5 Pa of 450 Pa are 0.0111, of 350 Pa 0.0143.
        let claimed = |value| {
            let (misfit, change) = scaled(value, 1.0 / 12.0, 0.0);
            change.of_known().mends(&misfit).chance > 0.0
        };
        assert!(claimed(450.0) && !claimed(350.0));
    }

    #[test]
    fn every_number_that_a_ratio_multiplies_lies_as_dense() {
        let (misfit, [first, _, stranger]) = two(100.0, 1200.0);
        let change = Change::steps([(first, 1100.0), (stranger, 77.0)]).by_ratio(12.0);
        // The logarithm of 144.
        holds(change.mends(&misfit), 4.969_813, 1.0, 0.0);
    }

    #[test]
    fn a_direction_is_best_where_it_takes_most_away() {
        let vector = |one, two| DVector::from_vec(vec![one, two]);
        // Along (3, 4), of length 5: (11, 2) goes 41 / 25 of it.
        let (part, standard) = best(&vector(11.0, 2.0), &vector(3.0, 4.0));
        assert!((part + 1.64).abs() < 1e-12 && (standard - 0.2).abs() < 1e-12, "{part} {standard}");
        assert_eq!(best(&vector(1.0, 1.0), &vector(0.0, 9e-9)), (0.0, f64::INFINITY));
        assert!(best(&vector(1.0, 1.0), &vector(0.0, 2e-8)).1.is_finite());
    }
}
