//! What is asked of the case once every piece is in it.

use uom::si::f64::Pressure;

use super::build::Built;
use super::start::Builder;
use super::unit::Standing;
use crate::evidence::{Ask, Input, Rule, Spread};
use crate::visit::{Choice, Key, Spot};

impl Builder<'_> {
    pub(super) fn finish(mut self, standing: Standing) -> Built {
        if self.shared_level.is_none() && self.level.is_none() {
            // No reference speaks of a level: the display still sees one.
            self.share_level(true);
        }
        let half = self.known.sensor.zero_allowance;
        let allowance = Input::pressure(
            "the sensor's own zero, taken as true within its allowance",
            Pressure::default(),
            Spread::Rectangular(half),
        );
        let allowance = self.case.input(allowance);
        // From atmosphere to the tank's zero, and from there to where it was read, the sensor may be off independently:
        // sharing one input between the two would make a check of one against the other blind to it.
        let half = self.known.sensor.accuracy;
        let none = Pressure::default();
        let own = Input::pressure("sensor accuracy under head", none, Spread::Expanded { half, factor: 2.0 });
        let own = self.case.input(own);
        self.case.allow_zero(&[allowance, own]);
        let now = self.now.unwrap_or(standing);
        let ask = Ask {
            offset: now.offset,
            display: now.pressure,
            rule: self.rule(),
            target: self.known.zero_reading(self.gradient),
            column: self.column,
        };
        let step = now.step;
        Built {
            accuracy: self.accuracy,
            step,
            marks: self.marks,
            tapes: self.tapes,
            scatter: self.scatter,
            flow: self.flow,
            density_part: self.density_part,
            series: self.series,
            case: self.case,
            ask,
            references: self.references,
            read_at: now.at,
            level: self.level.or(self.shared_level),
            typed: self.typed,
            laid: self.laid,
        }
    }

    pub(super) fn rule(&self) -> Rule {
        let chosen = self.known.rule.or_else(|| self.draft.answers.choice(Spot::of(Key::TrimRule)));
        match (chosen, self.level, self.known.unit.length_unit()) {
            (Some(Choice::TrueAtReference), Some(level), Some(unit)) => Rule::TrueAtReference {
                level,
                shown: self.known.unit.one(self.gradient),
                length: unit.length(1.0),
            },
            _ => Rule::TrueAtZero,
        }
    }
}
