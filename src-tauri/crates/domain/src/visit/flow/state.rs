//! What runs in the riser, as answered.

use uom::si::f64::VolumeRate;

use crate::head::Way;
use crate::visit::entries::Entries;
use crate::visit::{Choice, Draft, Key, Known, Spot, When};

/// What runs in the riser while the display is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(in crate::visit) enum Flow {
    /// Nobody was asked, or nobody answered.
    NotSaid,
    /// Nothing, or nothing that passes the transmitter's tap.
    Still,
    /// Nobody knows.
    NotKnown,
    /// Water runs.
    Runs {
        /// Which way.
        way: Way,
        /// At which rate, where it is known.
        rate: Option<VolumeRate>,
        /// True where a meter shows that rate.
        metered: bool,
    },
}

/// The questions of one reading of the display: as found, as left.
pub(in crate::visit) struct FlowKeys {
    pub(in crate::visit) state: Key,
    pub(in crate::visit) rate: Key,
    pub(in crate::visit) from: Key,
}

/// Returns the questions about the flow.
pub(in crate::visit) fn keys(when: When) -> FlowKeys {
    match when {
        When::Found => FlowKeys { state: Key::FlowInRiser, rate: Key::FlowRate, from: Key::FlowRateFrom },
        When::Left => {
            FlowKeys { state: Key::FlowInRiserLeft, rate: Key::FlowRateLeft, from: Key::FlowRateFromLeft }
        }
    }
}

/// Returns what runs in the riser by the answers. As left it is as found, where nothing else is said.
pub(in crate::visit) fn state(draft: &Draft, known: &Known, entries: &Entries, when: When) -> Flow {
    if !known.may_flow() {
        return Flow::Still;
    }
    let keys = keys(when);
    let runs = |way| Flow::Runs {
        way,
        rate: entries.number(keys.rate).map(|number| known.flow_unit.rate(number)),
        metered: draft.answers.choice(Spot::of(keys.from)) == Some(Choice::RateMetered),
    };
    match draft.answers.choice(Spot::of(keys.state)) {
        Some(Choice::FlowStill) => Flow::Still,
        Some(Choice::FlowDrawing) => runs(Way::Drawing),
        Some(Choice::FlowFilling) => runs(Way::Filling),
        Some(Choice::FlowNotKnown) => Flow::NotKnown,
        _ if when == When::Left => state(draft, known, entries, When::Found),
        _ => Flow::NotSaid,
    }
}
