//! What a hanging tape shows otherwise than the height it hangs over: its temperature, its pull, its slant.
//!
//! A tape is true at the temperature and under the pull it was checked at. Warmer, or pulled harder, it is longer than its
//! marks say, and what is read off it is too little:
//!
//! ```text
//! length = read (1 + expansion (T - T checked) + (P - P checked) / (A E))
//! height = sqrt(length^2 - sideways^2)
//! ```
//!
//! All three are small: in 12 m of steel, 20 K are 2.8 mm, a bob of 15 N on 3 mm2 is 0.3 mm, and a third of a metre off plumb
//! is 4.6 mm. They are told apart because they behave differently over several dips: expansion and temperature are the
//! tape's, whatever is measured with it, so [`Hung`] names them as inputs that dips share and the case sees the
//! correlation. The slant is each dip's own.
//!
//! Left out: the stretch by the tape's own weight (0.03 mm in 12 m of such a tape), and sag, which a hanging tape has not.

use uom::si::f64::{Area, Force, Length, Pressure, Ratio, TemperatureCoefficient, TemperatureInterval};
use uom::si::length::meter;

use super::InputId;
use super::equation::{Form, Var};

/// Returns what a tape's temperature adds to a length read off it; negative where it is colder than it was checked at.
#[must_use]
pub fn by_temperature(
    read: Length,
    expansion: TemperatureCoefficient,
    warmer: TemperatureInterval,
) -> Length {
    read * expansion.value * warmer.value
}

/// Returns by what part of its length a tape is stretched by a pull beyond the one it was checked under; none without a
/// cross-section and a modulus to speak of.
#[must_use]
pub fn stretch(pull: Force, section: Area, modulus: Pressure) -> Option<Ratio> {
    let stretch: Ratio = pull / (section * modulus);
    (section.value > 0.0 && modulus.value > 0.0 && stretch.value.is_finite()).then_some(stretch)
}

/// Returns the height that a straight line spans whose foot hangs sideways of its top; none where it cannot be so far off.
#[must_use]
pub fn upright(along: Length, sideways: Length) -> Option<Length> {
    let (along, sideways) = (along.value, sideways.value.abs());
    // As a product, because the difference of the squares would lose what a hair of slant is.
    let height = libm::sqrt((along - sideways) * (along + sideways));
    (sideways < along && height.is_finite()).then(|| Length::new::<meter>(height))
}

/// A length read off a hanging tape, by the inputs that make it the height it hung over. What belongs to the tape is one
/// input for all that is measured with it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hung {
    /// The length as read.
    pub read: InputId,
    /// The tape's expansion, and by how much it was warmer than when it was checked.
    pub warmth: Option<(InputId, InputId)>,
    /// By what part of its length it is stretched.
    pub stretch: Option<InputId>,
    /// By how much the line was longer than the height, for its slant.
    pub slant: Option<InputId>,
}

impl Hung {
    /// Returns a length read off a tape that nothing is known of beyond that.
    #[must_use]
    pub fn plumb(read: InputId) -> Hung {
        Hung { read, warmth: None, stretch: None, slant: None }
    }

    /// Adds `factor` times the height to a form.
    pub(super) fn add(&self, form: &mut Form, factor: f64) {
        let read = Var::Input(self.read.0);
        form.add(factor, read);
        if let Some((expansion, warmer)) = self.warmth {
            form.product(factor, vec![read, Var::Input(expansion.0), Var::Input(warmer.0)]);
        }
        if let Some(stretch) = self.stretch {
            form.product(factor, vec![read, Var::Input(stretch.0)]);
        }
        if let Some(slant) = self.slant {
            form.add(-factor, Var::Input(slant.0));
        }
    }
}
