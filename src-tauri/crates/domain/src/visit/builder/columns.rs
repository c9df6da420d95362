//! The columns that press on the sensor, from the inputs they rest on.

use std::collections::BTreeMap;

use uom::si::f64::{Length, MassDensity};
use uom::si::ratio::ratio;

use crate::evidence::{Case, Column, Input, InputId, Spread};
use crate::head::mounting::{End, Installed, Medium, Place};
use crate::visit::conditions::Conditions;
use crate::visit::known::Known;

/// How many times a column counts, what it is made of, and its height.
type Part = (f64, Column, InputId);

/// The columns of an installation as inputs of a case.
#[derive(Clone)]
pub(super) struct Laid {
    /// What presses with the level: the liquid less what stands over it.
    pub(super) level: Column,
    /// Each medium that presses on its own, less the gas that both sides meet in.
    media: BTreeMap<Medium, Column>,
    /// How often a place's height counts with a medium, over both sides.
    counts: BTreeMap<(Medium, Place), i32>,
    /// The register's heights that the case has: each is one cause, whatever rests on it.
    heights: BTreeMap<Place, InputId>,
}

/// Adds the densities, gravity, and the display's unit where its definition is not known.
pub(super) fn lay(case: &mut Case, known: &Known, conditions: &Conditions) -> Laid {
    let installed = &conditions.installed;
    let strength = conditions.own_line.then(|| {
        let spread = Spread::Standard(conditions.strength);
        case.input(Input::ratio("what is dissolved in the liquid, in vessel and line alike", 1.0, spread))
    });
    let process = case.input(process(conditions));
    let gravity = Input::acceleration(
        "local gravity",
        conditions.gravity,
        Spread::Standard(conditions.gravity_standard),
    );
    let gravity = case.input(gravity);
    let gas = gas(installed).map(|medium| case.input(density(conditions, medium)));
    let scale = known.unit.relative_uncertainty().get::<ratio>();
    let scale = (scale > 0.0)
        .then(|| case.input(Input::ratio("definition of the display's unit", 1.0, Spread::Standard(scale))));
    let column = |density: InputId, gas: Option<InputId>, strength: Option<InputId>| {
        let mut column = Column::new(density, gravity);
        column = gas.map_or(column, |gas| column.against(gas));
        column = scale.map_or(column, |scale| column.shown_by(scale));
        strength.map_or(column, |strength| column.of_strength(strength))
    };
    let mut media = BTreeMap::from([(Medium::Process, column(process, gas, strength))]);
    for medium in [Medium::Line, Medium::Light, Medium::Fill] {
        if installed.densities().of(medium).is_none() {
            continue;
        }
        let own = medium != Medium::Line || conditions.own_line;
        let input = if own { case.input(density(conditions, medium)) } else { process };
        media.insert(medium, column(input, gas, strength.filter(|_| medium == Medium::Line)));
    }
    let light = media.get(&Medium::Light).map(|light| light.density());
    let level =
        light.map_or_else(|| column(process, gas, strength), |light| column(process, Some(light), strength));
    Laid { level, media, counts: counts(installed), heights: BTreeMap::new() }
}

/// The gas that both sides meet in; an interface has liquid there, and every column counts whole.
fn gas(installed: &Installed) -> Option<Medium> {
    [Medium::Vapour, Medium::Air].into_iter().find(|medium| installed.densities().of(*medium).is_some())
}

fn process(conditions: &Conditions) -> Input {
    let why = if conditions.measured { "measured today" } else { "season's temperature" };
    let standard = if conditions.own_line {
        conditions.standards.get(&Medium::Process).copied().unwrap_or_default()
    } else {
        conditions.density_standard
    };
    Input::density(format!("density of the liquid ({why})"), conditions.density, Spread::Standard(standard))
}

fn density(conditions: &Conditions, medium: Medium) -> Input {
    let label = match medium {
        Medium::Process => "density of the liquid",
        Medium::Line => "density of the liquid in the line",
        Medium::Light => "density of the lighter liquid",
        Medium::Fill => "density of the fill",
        Medium::Vapour => "density of the gas over the liquid",
        Medium::Air => "air beside the riser",
    };
    let value = conditions.installed.densities().of(medium).unwrap_or_default();
    let standard = conditions.standards.get(&medium).copied().unwrap_or_default();
    let spread = if standard == MassDensity::default() { Spread::Exact } else { Spread::Standard(standard) };
    Input::density(label, value, spread)
}

/// With the surface at zero the standing head is a sum over both sides of density times difference of height. All
/// heights together cancel, because both sides begin and end at the same places; so the gas may be taken off every
/// density, and its own columns left out.
fn counts(installed: &Installed) -> BTreeMap<(Medium, Place), i32> {
    let mut counts = BTreeMap::new();
    let columns = installed.columns();
    let sides =
        columns.high.iter().map(|column| (1, column)).chain(columns.low.iter().map(|column| (-1, column)));
    for (side, column) in sides.filter(|(_, column)| gas(installed) != Some(column.what)) {
        for (end, sign) in [(column.to, side), (column.from, -side)] {
            if let End::At(place, _) = end {
                *counts.entry((column.what, place)).or_insert(0) += sign;
            }
        }
    }
    counts.retain(|(_, place), count| *count != 0 && *place != Place::Zero);
    counts
}

impl Laid {
    /// States anew the densities that hang on the liquid's temperature.
    pub(super) fn restate(&self, case: &mut Case, conditions: &Conditions) {
        case.restate(self.level.density(), process(conditions));
        if let Some(light) = self.media.get(&Medium::Light) {
            case.restate(light.density(), density(conditions, Medium::Light));
        }
    }

    /// Returns what the standing head is made of: how often each column counts over each height. What was measured today
    /// is the riser, or with two seals the height from one to the other; the other heights come from the register.
    pub(super) fn standing(&mut self, case: &mut Case, known: &Known, today: InputId) -> Vec<Part> {
        let seals = known.between_seals();
        let mut counts = BTreeMap::new();
        for ((medium, place), count) in &self.counts {
            // The upper seal stands the measured distance above the lower one.
            if seals && *place == Place::Top {
                *counts.entry((*medium, Place::Tap)).or_insert(0) += count;
            }
            *counts.entry((*medium, *place)).or_insert(0) += count;
        }
        counts.retain(|_, count: &mut i32| *count != 0);
        let measured = if seals { Place::Top } else { Place::Sensor };
        self.parts(
            &counts,
            |laid, place| {
                if place == measured { today } else { laid.by_register(case, known, place) }
            },
        )
    }

    /// Returns what the standing head is made of by the register alone, and its heights.
    pub(super) fn of_register(
        &mut self,
        case: &mut Case,
        known: &Known,
    ) -> (Vec<Part>, Vec<(Place, InputId)>) {
        let counts = self.counts.clone();
        let parts = self.parts(&counts, |laid, place| laid.by_register(case, known, place));
        let at = |place: &Place| counts.keys().any(|(_, one)| one == place);
        let heights = self.heights.iter().filter(|(place, _)| at(place));
        (parts, heights.map(|(place, input)| (*place, *input)).collect())
    }

    fn parts(
        &mut self,
        counts: &BTreeMap<(Medium, Place), i32>,
        mut height: impl FnMut(&mut Laid, Place) -> InputId,
    ) -> Vec<Part> {
        let mut parts = Vec::new();
        for ((medium, place), count) in counts {
            let Some(column) = self.media.get(medium).copied() else { continue };
            // The sensing point stands a riser's height below zero.
            let times = if *place == Place::Sensor { -count } else { *count };
            parts.push((f64::from(times), column, height(self, *place)));
        }
        parts
    }

    fn by_register(&mut self, case: &mut Case, known: &Known, place: Place) -> InputId {
        *self.heights.entry(place).or_insert_with(|| case.input(from_register(known, place)))
    }

    /// Returns the density of what fills leg or capillaries.
    pub(super) fn fill(&self) -> Option<InputId> {
        self.media.get(&Medium::Fill).map(Column::density)
    }
}

fn from_register(known: &Known, place: Place) -> Input {
    let mounting = &known.mounted.mounting;
    let (label, height, from) = match place {
        Place::Top => ("upper tap above zero", mounting.top(), known.mounted.heights_from),
        Place::Tap => ("lower seal above zero", mounting.tap(), known.mounted.heights_from),
        Place::Sensor => ("riser by the register", Some(mounting.riser()), known.riser_from),
        Place::Zero => ("tank zero", None, known.riser_from),
    };
    let height = height.unwrap_or_default();
    let agreed = agreed(place, height);
    let spread = if agreed { Spread::Exact } else { Spread::Standard(Known::riser_standard(from)) };
    Input::length(label, height, spread)
}

/// The lower seal of a tank whose zero is that seal is the zero by agreement.
pub(super) fn agreed(place: Place, height: Length) -> bool {
    place == Place::Tap && height == Length::default()
}
