//! The year at a site: its coldest and warmest columns, the worst they do, and the day best for a trim.

use uom::si::f64::{Length, Pressure, ThermodynamicTemperature};
use uom::si::pressure::pascal;
use uom::si::thermodynamic_temperature::kelvin;

use super::{Columns, Scale, Trimmed};

/// How finely temperatures between coldest and warmest are looked at: enough that the densest water is met within
/// a part in ten million.
const STEPS: usize = 128;

/// The columns of a site from its coldest to its warmest, closely spaced.
#[derive(Debug, Clone, PartialEq)]
pub struct Seasons {
    all: Vec<Columns>,
}

/// The worst error of a year.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Worst {
    /// The error.
    pub error: Length,
    /// At which level.
    pub level: Length,
    /// With which columns.
    pub columns: Columns,
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
    /// Works out the columns from one temperature to another.
    ///
    /// # Errors
    ///
    /// What `columns` says of a temperature it cannot be worked out for.
    pub fn between<E>(
        coldest: ThermodynamicTemperature,
        warmest: ThermodynamicTemperature,
        columns: impl Fn(ThermodynamicTemperature) -> Result<Columns, E>,
    ) -> Result<Seasons, E> {
        let (from, to) = (coldest.get::<kelvin>(), warmest.get::<kelvin>());
        let all = (0..=STEPS).map(|step| {
            #[allow(clippy::cast_precision_loss)] // A small number of steps.
            let part = step as f64 / STEPS as f64;
            columns(ThermodynamicTemperature::new::<kelvin>(from + (to - from) * part))
        });
        Ok(Seasons { all: all.collect::<Result<_, _>>()? })
    }

    /// Returns the coldest columns.
    #[must_use]
    pub fn coldest(&self) -> Option<&Columns> {
        self.all.first()
    }

    /// Returns the warmest columns.
    #[must_use]
    pub fn warmest(&self) -> Option<&Columns> {
        self.all.last()
    }

    /// Returns the worst error of the year over levels from nought to the span.
    #[must_use]
    pub fn worst(&self, trimmed: &Trimmed, scale: &Scale, span: Length) -> Option<Worst> {
        let ends = [Length::default(), span];
        let cases = self.all.iter().flat_map(|columns| ends.map(|level| (columns, level)));
        let errors = cases.map(|(columns, level)| Worst {
            error: trimmed.error(scale, level, columns),
            level,
            columns: *columns,
        });
        errors.max_by(|one, two| one.error.abs().value.total_cmp(&two.error.abs().value))
    }

    /// Returns the least and the most of a pressure over the year.
    pub(super) fn extremes(&self, of: impl Fn(&Columns) -> Pressure) -> Option<(Pressure, Pressure)> {
        let values = || self.all.iter().map(&of);
        let least = values().min_by(|one, two| one.value.total_cmp(&two.value))?;
        let most = values().max_by(|one, two| one.value.total_cmp(&two.value))?;
        Some((least, most))
    }

    /// Looks for the temperature between coldest and warmest at which a trim, true at a level, leaves the least
    /// over the year.
    ///
    /// A trim on another day moves every error alike, so the best one has the worst too much and the worst too
    /// little in balance, or is the nearest to that the site ever gets.
    #[must_use]
    pub fn best_trim(&self, true_at: Length, scale: &Scale, span: Length) -> Option<BestTrim> {
        let worst_of = |day: &Columns| {
            let trimmed = Trimmed::true_at(true_at, *day, scale);
            self.extreme_error(&trimmed, scale, span)
        };
        // The errors of a trim on the coldest day, once; every other day moves them by one number.
        let first = self.all.first()?;
        let (least, most) = worst_of(first)?;
        let reference = Trimmed::true_at(true_at, *first, scale).at_zero - first.head;
        let best = self.all.iter().map(|day| {
            let moved = Trimmed::true_at(true_at, *day, scale).at_zero - day.head - reference;
            let by = scale.seen(moved) - scale.seen(Pressure::new::<pascal>(0.0));
            (day, (least + by).abs().max((most + by).abs()))
        });
        let (day, worst) = best.min_by(|one, two| one.1.value.total_cmp(&two.1.value))?;
        Some(BestTrim { temperature: day.temperature, worst })
    }

    fn extreme_error(&self, trimmed: &Trimmed, scale: &Scale, span: Length) -> Option<(Length, Length)> {
        let errors = |end: Length| self.all.iter().map(move |columns| trimmed.error(scale, end, columns));
        let all = || errors(Length::default()).chain(errors(span));
        let least = all().min_by(|one, two| one.value.total_cmp(&two.value))?;
        let most = all().max_by(|one, two| one.value.total_cmp(&two.value))?;
        Some((least, most))
    }
}
