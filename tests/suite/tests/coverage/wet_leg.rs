//! A closed tank whose low side is a leg kept full: the standing head then leans on two liquids, two heights and the gas.

use domain::visit::{Choice, Key, PieceKind, Spot};

use crate::chance::Shape;
use crate::nature;
use crate::site::{Leg, Site};
use crate::visit::Visit;

/// Standard uncertainty of a height followed with a tape, m, and of the fill's density, as a share.
const HEIGHT: f64 = 0.006;
const FILL: f64 = 0.001;

/// Puts a leg beside the tank, from the sensing point up to a tap above the level at 100 %.
pub(crate) fn with_leg(site: &mut Site) {
    site.riser = (site.riser * 100.0).round() / 1000.0;
    let gas = (nature::air(site.altitude) * 1000.0).round() / 1000.0;
    site.leg = Some(Leg { top: site.span + 0.5, fill: 1050.0, gas });
}

impl Visit {
    /// The leg stands as high as the register says, give or take.
    fn stand_leg(&mut self) -> [usize; 2] {
        let leg = self.site.leg.unwrap();
        let (fill, top) = (self.source(Shape::Normal(FILL)), self.source(Shape::Normal(HEIGHT)));
        let common = self.common;
        let [gas, gravity] = [common.air, common.gravity].map(|source| self.common_error(source));
        let net = leg.fill * (1.0 + fill.1) - leg.gas * (1.0 + gas);
        let gravity = nature::gravity(self.site.latitude, self.site.altitude) + gravity;
        self.truth.leg = -net * gravity * (leg.top + top.1 + self.truth.riser);
        [fill.0, top.0]
    }

    /// The leg over a level that is dipped: whatever it presses, the reading shows it.
    pub(crate) fn leg_and_dip(&mut self) {
        self.stand_leg();
        self.standing_dip(1);
    }

    /// The leg by its heights and densities, and the offset read on the unit.
    pub(crate) fn leg_and_offset(&mut self) {
        let leg = self.site.leg.unwrap();
        let [fill, top] = self.stand_leg();
        let (offset, digit) = self.offset_read();
        self.stand(Choice::OffsetReadToday);
        let (below, error) = self.source(Shape::Normal(HEIGHT));
        let piece = self.piece(PieceKind::Riser);
        let (text, riser, _) = self.site.length(self.truth.riser - error);
        self.put(Spot::piece(piece, Key::RiserHeight, 0), text);
        self.put(Spot::piece(piece, Key::RiserHow, 0), Choice::ByTape.word());
        let (common, site) = (self.common, self.site.clone());
        self.ways.push(Box::new(move |drawn| {
            let error = |source: usize| drawn.errors[source];
            let riser = riser + error(below);
            let net = leg.fill * (1.0 + error(fill)) - leg.gas * (1.0 + error(common.air));
            let gravity = nature::gravity(site.latitude, site.altitude) + error(common.gravity);
            let head = drawn.gradient * riser - net * gravity * (leg.top + error(top) + riser);
            -(offset + error(digit) + head + error(common.allowance) + error(common.accuracy))
        }));
    }
}
