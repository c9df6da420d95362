//! The year at a site: its coldest and warmest columns, the worst they do, and the day best for a trim.

use uom::si::f64::{Length, Pressure, ThermodynamicTemperature};
use uom::si::thermodynamic_temperature::kelvin;

use super::{Day, Scale, Trimmed};

/// How finely temperatures between coldest and warmest are looked at: enough that the densest water is met within
/// a part in ten million.
const STEPS: usize = 128;

/// A site's days from its coldest to its warmest, closely spaced.
#[derive(Debug, Clone, PartialEq)]
pub struct Seasons {
    all: Vec<Day>,
}

/// The worst error of a year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worst {
    /// The error.
    pub error: Length,
    /// At which level.
    pub level: Length,
    /// On which day.
    pub day: Day,
}

/// The temperature at which a trim leaves the least over the year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BestTrim {
    /// The temperature.
    pub temperature: ThermodynamicTemperature,
    /// What would then be the worst.
    pub worst: Length,
}

impl Seasons {
    /// Works out the days from one temperature to another.
    ///
    /// # Errors
    ///
    /// What `day` says of a temperature it cannot be worked out for.
    pub fn between<E>(
        coldest: ThermodynamicTemperature,
        warmest: ThermodynamicTemperature,
        day: impl Fn(ThermodynamicTemperature) -> Result<Day, E>,
    ) -> Result<Seasons, E> {
        let (from, to) = (coldest.get::<kelvin>(), warmest.get::<kelvin>());
        let all = (0..=STEPS).map(|step| {
            #[allow(clippy::cast_precision_loss)] // A small number of steps.
            let part = step as f64 / STEPS as f64;
            day(ThermodynamicTemperature::new::<kelvin>(from + (to - from) * part))
        });
        Ok(Seasons { all: all.collect::<Result<_, _>>()? })
    }

    /// Returns a year that is one day.
    #[must_use]
    pub fn only(day: Day) -> Seasons {
        Seasons { all: vec![day] }
    }

    /// Returns the coldest day.
    #[must_use]
    pub fn coldest(&self) -> Option<&Day> {
        self.all.first()
    }

    /// Returns the warmest day.
    #[must_use]
    pub fn warmest(&self) -> Option<&Day> {
        self.all.last()
    }

    /// Returns the worst error of the year over levels from nought to the span.
    #[must_use]
    pub fn worst(&self, trimmed: &Trimmed, scale: &Scale, span: Length) -> Option<Worst> {
        let ends = [Length::default(), span];
        let cases = self.all.iter().flat_map(|day| ends.map(|level| (day, level)));
        let errors =
            cases.map(|(day, level)| Worst { error: trimmed.error(scale, level, day), level, day: *day });
        errors.max_by(|one, two| one.error.abs().value.total_cmp(&two.error.abs().value))
    }

    /// Returns the least and the most of a pressure over the year.
    pub(super) fn extremes(&self, of: impl Fn(&Day) -> Pressure) -> Option<(Pressure, Pressure)> {
        let values = || self.all.iter().map(&of);
        let least = values().min_by(|one, two| one.value.total_cmp(&two.value))?;
        let most = values().max_by(|one, two| one.value.total_cmp(&two.value))?;
        Some((least, most))
    }

    /// Looks for the temperature between coldest and warmest at which the same trim, true at a level, leaves the
    /// least over the year.
    ///
    /// A trim on another day moves every error alike, so the best one has the worst too much and the worst too
    /// little in balance, or is the nearest to that the site ever gets.
    #[must_use]
    pub fn best_trim(
        &self,
        trimmed: &Trimmed,
        true_at: Length,
        scale: &Scale,
        span: Length,
    ) -> Option<BestTrim> {
        let (least, most) = self.extreme_error(trimmed, scale, span)?;
        let best = self.all.iter().map(|day| {
            let other = trimmed.instead_on(*day, true_at);
            let by = scale.level((other.at_zero - day.head) - (trimmed.at_zero - trimmed.day.head));
            (day, (least + by).abs().max((most + by).abs()))
        });
        let (day, worst) = best.min_by(|one, two| one.1.value.total_cmp(&two.1.value))?;
        Some(BestTrim { temperature: day.temperature, worst })
    }

    fn extreme_error(&self, trimmed: &Trimmed, scale: &Scale, span: Length) -> Option<(Length, Length)> {
        let errors = |end: Length| self.all.iter().map(move |day| trimmed.error(scale, end, day));
        let all = || errors(Length::default()).chain(errors(span));
        let least = all().min_by(|one, two| one.value.total_cmp(&two.value))?;
        let most = all().max_by(|one, two| one.value.total_cmp(&two.value))?;
        Some((least, most))
    }
}
