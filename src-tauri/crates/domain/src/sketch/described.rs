//! The drawing in words, for those who cannot see it.

use uom::si::f64::Length;

use super::sheet::Sheet;
use crate::head::mounting::Mounting;

impl Sheet<'_> {
    /// Says how the transmitter is mounted, where it stands, and every height from top to bottom.
    pub(super) fn description(&self) -> String {
        let mut heights: Vec<(Length, String)> =
            self.of.marks.iter().map(|mark| (mark.at, mark.says.clone())).collect();
        let connections = self.of.connections();
        heights.extend(connections.iter().map(|(at, name)| (*at, format!("{name} {}", (self.says)(*at)))));
        heights.sort_by(|one, other| other.0.value.total_cmp(&one.0.value));
        let heights: Vec<String> = heights.into_iter().map(|(_, says)| says).collect();
        format!(
            "Section to scale. {} {} From top to bottom: {}.",
            self.mounted(),
            self.stands(),
            heights.join("; ")
        )
    }

    fn mounted(&self) -> String {
        let leg = self.of.leg().map(|[foot, top]| (self.says)((top - foot).abs())).unwrap_or_default();
        match self.of.mounting {
            Mounting::Riser { .. } => "An open tank over a riser.".to_owned(),
            Mounting::AboveDatum { .. } => "An open tank with an impulse line full of its liquid.".to_owned(),
            Mounting::DryLeg { .. } => format!("A closed tank; its low side is a dry leg {leg} high."),
            Mounting::WetLeg { .. } => format!("A closed tank; its low side is a wet leg {leg} high."),
            Mounting::OneSeal { .. } => "An open tank with one seal on a filled capillary.".to_owned(),
            Mounting::TwoSeals { .. } => {
                format!("A closed tank with two seals {leg} apart on capillaries of one fill.")
            }
            Mounting::Probe { .. } => {
                "An open tank with a probe hanging in the liquid on its cable.".to_owned()
            }
            Mounting::Interface { .. } => {
                format!(
                    "A tank with a light liquid over a heavy one; its low side is a filled leg {leg} high."
                )
            }
        }
    }

    fn stands(&self) -> String {
        let sensor = self.of.sensor();
        let zero = Length::default();
        let what = if matches!(self.of.mounting, Mounting::Probe { .. }) { "probe" } else { "transmitter" };
        let says = (self.says)(sensor.abs());
        if sensor > zero {
            format!("The {what} stands {says} above the tank's zero.")
        } else if sensor < zero {
            format!("The {what} stands {says} below the tank's zero.")
        } else {
            format!("The {what} stands at the tank's zero.")
        }
    }
}
