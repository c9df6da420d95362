//! What a signed LRV is called.

use uom::si::f64::Pressure;
use uom::si::length::meter;

use crate::head::mounting::Mounting;

/// Returns how a signed LRV is called. The two words are used in opposite senses by respected authorities, so
/// the sign and the place of the transmitter stand first and both words are explained.
#[must_use]
pub fn zero_wording(lrv: Pressure, mounting: &Mounting) -> String {
    let metres = mounting.riser().get::<meter>();
    let place = if metres > 0.0 {
        "the transmitter stands below the tank's zero"
    } else if metres < 0.0 {
        "the transmitter stands above the tank's zero"
    } else {
        "the transmitter stands at the tank's zero"
    };
    let place = format!("{place}{}", leg(mounting));
    if lrv.value > 0.0 {
        format!("positive LRV: {place}; a suppressed zero (zero suppression), which some call zero elevation")
    } else if lrv.value < 0.0 {
        format!("negative LRV: {place}; an elevated zero (zero elevation), which some call zero suppression")
    } else {
        format!("LRV at zero: {place}; neither suppression nor elevation")
    }
}

/// What presses on the low side, where it decides the sign.
fn leg(mounting: &Mounting) -> &'static str {
    match mounting {
        Mounting::WetLeg { .. } | Mounting::Interface { .. } => " and a full leg presses on its low side",
        Mounting::TwoSeals { .. } => " (which cancels) and the upper capillary presses on its low side",
        Mounting::Riser { .. }
        | Mounting::AboveDatum { .. }
        | Mounting::DryLeg { .. }
        | Mounting::OneSeal { .. }
        | Mounting::Probe { .. } => "",
    }
}
