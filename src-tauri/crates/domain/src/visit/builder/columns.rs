//! The columns that press on the sensor, from the inputs they rest on.

use std::collections::BTreeMap;

use uom::si::f64::{Length, MassDensity};
use uom::si::ratio::ratio;

use crate::evidence::{Case, Column, Input, InputId, Spread};
use crate::head::mounting::{End, Installed, Medium, Place};
use crate::visit::conditions::Conditions;
use crate::visit::known::Known;

/// The columns of an installation as inputs of a case.
pub(super) struct Laid {
    /// What presses with the level: the liquid less what stands over it.
    pub(super) level: Column,
    /// Each medium that presses on its own, less the gas that both sides meet in.
    media: BTreeMap<Medium, Column>,
    /// How often a place's height counts with a medium, over both sides.
    counts: BTreeMap<(Medium, Place), i32>,
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
    Laid { level, media, counts: counts(installed) }
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
    /// Returns what the standing head is made of: how often each column counts over each height. What was measured today
    /// is the riser, or with two seals the height from one to the other; the other heights come from the register.
    pub(super) fn standing(
        &self,
        case: &mut Case,
        known: &Known,
        today: InputId,
    ) -> Vec<(f64, Column, InputId)> {
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
        let mut heights = BTreeMap::from([(if seals { Place::Top } else { Place::Sensor }, today)]);
        let mut parts = Vec::new();
        for ((medium, place), count) in counts {
            let Some(column) = self.media.get(&medium) else { continue };
            let height = *heights.entry(place).or_insert_with(|| case.input(from_register(known, place)));
            // The sensing point stands a riser's height below zero.
            let sign = if place == Place::Sensor { -1.0 } else { 1.0 };
            parts.push((f64::from(count) * sign, *column, height));
        }
        parts
    }
}

fn from_register(known: &Known, place: Place) -> Input {
    let mounting = &known.mounted.mounting;
    let (label, height) = match place {
        Place::Top => ("upper tap above zero", mounting.top()),
        Place::Tap => ("lower seal above zero", mounting.tap()),
        Place::Sensor => ("riser height", Some(mounting.riser())),
        Place::Zero => ("tank zero", None),
    };
    let height = height.unwrap_or_default();
    // The lower seal of a tank whose zero is that seal is the zero by agreement.
    let agreed = place == Place::Tap && height == Length::default();
    let standard = Known::riser_standard(known.mounted.heights_from);
    Input::length(label, height, if agreed { Spread::Exact } else { Spread::Standard(standard) })
}
