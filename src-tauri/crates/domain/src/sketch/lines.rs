//! What leads from the tank to the transmitter, and the transmitter: riser, legs, capillaries, cable.

use super::sheet::{Sheet, level, plumb, upright};
use super::{Role, Shape};
use crate::head::mounting::Mounting;

const RISER: f64 = 14.0;
const LINE: f64 = 10.0;
/// The transmitter's box.
const BOX: f64 = 22.0;
const PROBE: f64 = 12.0;
const SEAL: f64 = 6.0;

impl Sheet<'_> {
    /// Draws both sides of the sensor.
    pub(super) fn lines(&self) -> Vec<Shape> {
        match self.of.mounting {
            Mounting::Riser { .. } | Mounting::AboveDatum { .. } => self.high(),
            Mounting::DryLeg { .. } => [self.high(), self.leg_pipe(None)].concat(),
            Mounting::WetLeg { .. } | Mounting::Interface { .. } => {
                [self.high(), self.leg_pipe(Some(Role::Fill))].concat()
            }
            Mounting::OneSeal { .. } | Mounting::TwoSeals { .. } => self.capillaries(),
            Mounting::Probe { .. } => {
                let x = self.across.riser;
                vec![plumb(Role::Transmitter, x, [self.y(self.of.tank_top()), self.y(self.of.sensor())])]
            }
        }
    }

    /// The tank's liquid down a riser, or from its zero up beside it.
    fn high(&self) -> Vec<Shape> {
        let (sensor, bottom) = (self.y(self.of.sensor()), self.y(self.of.tank_bottom()));
        let across = &self.across;
        if sensor >= bottom {
            let pipe =
                [Role::Liquid, Role::Wall].map(|role| upright(role, across.riser, RISER, [bottom, sensor]));
            let run = level(Role::Wall, across.riser + RISER / 2.0, across.transmitter, sensor);
            return pipe.into_iter().chain([run]).collect();
        }
        let zero = self.y(uom::si::f64::Length::default());
        let pipe = [Role::Liquid, Role::Wall].map(|role| upright(role, across.near, LINE, [zero, sensor]));
        let foot = level(Role::Wall, across.tank_right, across.near, zero);
        let run = level(Role::Wall, across.near + LINE / 2.0, across.transmitter, sensor);
        pipe.into_iter().chain([foot, run]).collect()
    }

    /// A leg from the sensor to the upper tap, full of something or of gas.
    fn leg_pipe(&self, full_of: Option<Role>) -> Vec<Shape> {
        let Some(top) = self.of.mounting.top() else { return Vec::new() };
        let (across, sensor, top) = (&self.across, self.y(self.of.sensor()), self.y(top));
        let roles = full_of.into_iter().chain([Role::Wall]);
        let pipe = roles.map(|role| upright(role, across.leg, LINE, [top, sensor]));
        let near = across.leg - LINE / 2.0;
        let run = level(Role::Wall, across.transmitter + BOX, near, sensor);
        pipe.chain([run, level(Role::Wall, across.tank_right, near, top)]).collect()
    }

    fn capillaries(&self) -> Vec<Shape> {
        let across = &self.across;
        let lower = self.of.mounting.tap().map(|at| (at, across.near, across.transmitter));
        let upper = self.of.mounting.top().map(|at| (at, across.leg, across.transmitter + BOX));
        let (sensor, flange) = (self.y(self.of.sensor()), across.tank_right + SEAL / 2.0);
        let sides = lower.into_iter().chain(upper);
        let drawn = sides.flat_map(|(at, x, into)| {
            let seal = self.y(at);
            [
                level(Role::Fill, flange, x, seal),
                plumb(Role::Fill, x, [seal, sensor]),
                level(Role::Fill, x, into, sensor),
                upright(Role::Wall, flange, SEAL, [seal - 7.0, seal + 7.0]),
            ]
        });
        drawn.collect()
    }

    /// Returns where the transmitter ends on the right, with what stands beyond it.
    pub(super) fn transmitter_end(&self) -> f64 {
        let across = &self.across;
        match self.of.mounting {
            Mounting::Probe { .. } => across.riser + PROBE / 2.0,
            _ if self.of.mounting.is_closed() => across.leg + LINE / 2.0,
            _ => across.transmitter + BOX,
        }
    }

    /// Draws the transmitter: a box beside the tank, or a probe whose lower end feels the liquid.
    pub(super) fn transmitter(&self) -> Vec<Shape> {
        let y = self.y(self.of.sensor());
        if matches!(self.of.mounting, Mounting::Probe { .. }) {
            return vec![upright(Role::Transmitter, self.across.riser, PROBE, [y - BOX, y])];
        }
        let middle = self.across.transmitter + BOX / 2.0;
        vec![upright(Role::Transmitter, middle, BOX, [y - BOX / 2.0, y + BOX / 2.0])]
    }
}
