//! What may have happened to a mounting, in words: legs, fills, probes, vents, flow.

use uom::si::ratio::percent;

use super::SlipCause;
use super::find::Visit;
use super::words::said;
use crate::evidence::slips::{Cause, Scene};
use crate::head::mounting::Mounting;
use crate::visit::{Choice, Key, Show, Spot};

/// Returns a cause in words.
pub(super) fn cause(visit: &Visit<'_>, scene: &Scene, cause: &Cause) -> SlipCause {
    let show = Show::new(visit.known, visit.conditions.gradient);
    let mounting = &visit.known.mounted.mounting;
    let (what, why) = match cause {
        Cause::ProbeDepth { by } => {
            let way = if by.value > 0.0 { "lower" } else { "higher" };
            said("the probe hangs at another depth", format!("{} {way} it fits", show.length(by.abs())))
        }
        Cause::LegShort { height } => said(
            "the wet leg has lost liquid",
            format!(
                "short of {} it fits: the low side presses less, so the display is high",
                show.small(*height)
            ),
        ),
        Cause::LegWet { height } => said(
            "condensate stands in the dry leg",
            format!(
                "{} of it would fit: the low side presses more, so the display is low",
                show.small(*height)
            ),
        ),
        Cause::FillDensity { times } => {
            let off = times.get::<percent>() - 100.0;
            let way = if off < 0.0 { "lighter" } else { "denser" };
            said(
                filled(mounting),
                format!("{way} by {:.1} % it fits, at every level by the same amount", off.abs()),
            )
        }
        Cause::VentShut { by } => {
            let found = match visit.draft.answers.choice(Spot::of(Key::VentLooked)) {
                Some(Choice::VentClear) => ", though it was seen clear",
                Some(Choice::VentBlocked) => ", as it was found",
                _ => "",
            };
            said(
                format!("{} is shut, wet or blocked{found}", vent(mounting)),
                format!("{} of the weather behind it would fit", show.change(*by)),
            )
        }
        Cause::Flow { by } => {
            let (way, how) = if by.value < 0.0 { ("drawn out", "low") } else { ("filled in", "high") };
            let described = if visit.known.pipe().is_some() || scene.flow.is_none() {
                ""
            } else {
                "; the register does not describe the pipe"
            };
            said(
                format!("water was {way} through the riser while the display was read"),
                format!("{} would fit, reading {how}{described}", show.change(*by)),
            )
        }
        _ => said("", ""),
    };
    SlipCause { code: cause.code(), what, why, tell: tell(mounting, cause).to_owned() }
}

fn filled(mounting: &Mounting) -> &'static str {
    match mounting {
        Mounting::WetLeg { .. } | Mounting::Interface { .. } => {
            "the leg was refilled with another liquid than the register's fill, or is much warmer or colder"
        }
        _ => "the capillaries hold another fill than the register's, or are much warmer or colder",
    }
}

fn vent(mounting: &Mounting) -> &'static str {
    if matches!(mounting, Mounting::Probe { .. }) { "the vent tube in the cable" } else { "the vent" }
}

/// Returns what a transmitter that stands elsewhere is called, by its mounting.
pub(super) fn elsewhere(mounting: &Mounting) -> (String, String) {
    let what = match mounting {
        Mounting::Riser { .. } | Mounting::AboveDatum { .. } | Mounting::Probe { .. } => {
            return said(
                "the transmitter was moved, or the register's riser is not this one",
                "another height of riser would fit",
            );
        }
        Mounting::OneSeal { .. } | Mounting::TwoSeals { .. } => {
            "a seal stands elsewhere, or the register's heights are not these"
        }
        _ => {
            "the transmitter or the top of the leg stands elsewhere, or the register's heights are not these"
        }
    };
    said(what, "another height would fit")
}

/// Returns how to find that out.
pub(super) fn tell_elsewhere(mounting: &Mounting) -> &'static str {
    match mounting {
        Mounting::Riser { .. } | Mounting::AboveDatum { .. } | Mounting::Probe { .. } => {
            "Measure the riser; look for a new mounting and its date."
        }
        Mounting::OneSeal { .. } | Mounting::TwoSeals { .. } => {
            "Measure the height of each seal's middle; look for a new mounting and its date."
        }
        _ => {
            "Measure from the transmitter to the zero and to the top of the leg; look for a new mounting and its date."
        }
    }
}

/// Returns how to find out.
pub(super) fn tell(mounting: &Mounting, cause: &Cause) -> &'static str {
    match cause {
        Cause::ProbeDepth { .. } => {
            "Measure the cable from its clamp down, or lift the probe by a measured length: the display must follow by it."
        }
        Cause::LegShort { .. } => {
            "By the site's own procedure look at the leg's pot or top it up: a short leg takes liquid and the error goes; one that \
             was filled with another liquid takes none."
        }
        Cause::LegWet { .. } => {
            "By the site's own procedure drain the leg at its lowest point and read again: condensate comes out and the error goes; \
             see whether it comes back over days."
        }
        Cause::FillDensity { .. }
            if matches!(mounting, Mounting::WetLeg { .. } | Mounting::Interface { .. }) =>
        {
            "Ask what the leg was last filled with, or weigh a sample of it; read on a warm and on a cold day. A full leg takes no \
             topping up."
        }
        Cause::FillDensity { .. } => {
            "Read the fill on the seal's plate, and the capillaries' temperature; read again when it is another: a fill's error \
             moves with it, a seal that stands elsewhere stays."
        }
        Cause::VentShut { .. } if matches!(mounting, Mounting::Probe { .. }) => {
            "Look at the drying cartridge and the end of the vent tube; note barometer and display, and read again when the \
             weather has changed: a shut vent follows the weather, a probe that hangs elsewhere does not."
        }
        Cause::VentShut { .. } => {
            "Look at the vent; note barometer and display, and read again after a day: a shut vent follows the weather."
        }
        _ => {
            "Ask the control room for pumps and valves; stop the flow if you may, wait, and read again: what flow did goes, and \
              air stays."
        }
    }
}
