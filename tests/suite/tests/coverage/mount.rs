//! How the transmitter sits at its vessel, and what its columns press at level zero: both sides summed as they stand, from
//! the sensor up, with whole densities. Nothing is cancelled beforehand.

use serde_json::{Value, json};

use crate::chance::Shape;
use crate::nature;
use crate::site::{AIR, Site};
use crate::visit::{Drawn, Source, Visit};

/// A mounting: heights above the tank's zero in m, densities in kg/m3.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Mount {
    /// A riser, or where its height is negative a line up to a transmitter above the zero.
    Riser,
    /// A riser of a temperature of its own, degC.
    OwnLine(f64),
    Probe,
    DryLeg {
        top: f64,
        gas: f64,
    },
    WetLeg {
        top: f64,
        fill: f64,
        gas: f64,
    },
    OneSeal {
        tap: f64,
        fill: f64,
    },
    TwoSeals {
        tap: f64,
        top: f64,
        fill: f64,
        gas: f64,
    },
    Interface {
        top: f64,
        light: f64,
        fill: f64,
    },
}

/// Standard uncertainty of a height followed with a tape, m, and of a second liquid's density, as a share.
const HEIGHT: f64 = 0.006;
pub(crate) const SECOND: f64 = 0.001;
/// How far the usual temperature of a line may be off, half-width, K.
const USUAL: f64 = 5.0;

/// Where the errors of a mounting's own measures stand among those of a visit, and what they truly are.
#[derive(Debug, Clone, Copy, Default)]
pub(crate) struct Own {
    fill: Option<(Source, f64)>,
    top: Option<(Source, f64)>,
    tap: Option<(Source, f64)>,
    line: Option<(Source, f64)>,
}

/// What is true, or supposed, of everything that presses.
pub(crate) struct Off {
    /// Density of the tank's liquid, and how much denser it is than it is taken to be, as a share.
    pub(crate) liquid: f64,
    pub(crate) strength: f64,
    /// Density of what stands over it.
    pub(crate) over: f64,
    pub(crate) gravity: f64,
    /// What fill, top, tap and line are off by.
    pub(crate) own: [f64; 4],
}

fn survey(height: f64) -> f64 {
    (height * 1000.0).round() / 1000.0
}

/// A mounting whose sensing point stands near the tank.
fn near(site: &mut Site, mount: Mount, over: f64) {
    site.riser = survey(site.riser / 10.0);
    (site.mount, site.over) = (mount, over);
}

pub(crate) fn own_line(site: &mut Site) {
    let celsius = (site.celsius * 10.0 + 60.0).round() / 10.0;
    site.mount = Mount::OwnLine(celsius);
}

pub(crate) fn above_datum(site: &mut Site) {
    site.riser = -survey(site.riser / 10.0);
}

pub(crate) fn probe(site: &mut Site) {
    let over = site.over;
    near(site, Mount::Probe, over);
    site.riser = survey(site.riser / 10.0);
}

pub(crate) fn dry_leg(site: &mut Site) {
    near(site, Mount::DryLeg { top: site.span + 0.5, gas: 4.0 }, 4.0);
}

pub(crate) fn wet_leg(site: &mut Site) {
    near(site, Mount::WetLeg { top: site.span + 0.5, fill: 1050.0, gas: 4.0 }, 4.0);
}

pub(crate) fn one_seal(site: &mut Site) {
    let over = site.over;
    near(site, Mount::OneSeal { tap: -0.35, fill: 934.0 }, over);
}

pub(crate) fn two_seals(site: &mut Site) {
    let top = site.span + 0.5;
    near(site, Mount::TwoSeals { tap: -0.35, top, fill: 934.0, gas: 4.0 }, 4.0);
}

pub(crate) fn interface(site: &mut Site) {
    near(site, Mount::Interface { top: site.span + 0.5, light: 820.0, fill: 1000.0 }, 820.0);
}

impl Mount {
    /// What is known of the density over the liquid, standard, as a share: a gas by 5 %, a liquid better.
    pub(crate) fn over_part(self) -> f64 {
        if matches!(self, Mount::Interface { .. }) { SECOND } else { AIR }
    }

    /// The height that a person measures for it, as the register has it.
    pub(crate) fn measured(self, riser: f64) -> f64 {
        if let Mount::TwoSeals { tap, top, .. } = self { top - tap } else { riser }
    }

    /// What the columns press at level zero, with `height` the one that is measured.
    pub(crate) fn head(self, off: &Off, height: f64) -> f64 {
        let [denser, higher, lower, warmer] = off.own;
        let (liquid, over, riser) = (off.liquid, off.over, height);
        let pressed = match self {
            Mount::Riser | Mount::Probe => (liquid - over) * riser,
            Mount::OwnLine(celsius) => {
                (nature::water(celsius + warmer) * (1.0 + off.strength) - over) * riser
            }
            Mount::DryLeg { top, .. } => {
                let top = top + higher;
                liquid * riser + over * top - over * (top + riser)
            }
            Mount::WetLeg { top, fill, .. } => {
                let top = top + higher;
                liquid * riser + over * top - fill * (1.0 + denser) * (top + riser)
            }
            Mount::OneSeal { tap, fill } => {
                let tap = tap + lower;
                fill * (1.0 + denser) * (tap + riser) - liquid * tap - over * riser
            }
            // The capillaries stand beside each other up to the lower seal; above it only one is left.
            Mount::TwoSeals { tap, fill, .. } => {
                let tap = tap + lower;
                over * (tap + height) - liquid * tap - fill * (1.0 + denser) * height
            }
            Mount::Interface { top, fill, .. } => {
                let top = top + higher;
                liquid * riser + over * top - fill * (1.0 + denser) * (top + riser)
            }
        };
        pressed * off.gravity
    }

    /// The mounting as a register row has it, which states a second liquid's density with this share.
    pub(crate) fn row(self, second_part: f64) -> Option<Value> {
        let metres = |height: f64| format!("{height:.3} m");
        let gas = |density: f64| format!("{density:.3} kg/m3");
        let second = |name: &str, density: f64| {
            let uncertainty = format!("{} %", second_part * 100.0);
            json!({ "name": name, "density": format!("{density} kg/m3"), "at": "15 degC", "uncertainty": uncertainty })
        };
        Some(match self {
            Mount::Riser => return None,
            Mount::OwnLine(celsius) => {
                json!({ "kind": "riser", "line_temperature": format!("{celsius:.1} degC") })
            }
            Mount::Probe => json!({ "kind": "probe" }),
            Mount::DryLeg { top, gas: over } => {
                json!({ "kind": "dry_leg", "top": metres(top), "heights_from": "tape", "vapour_density": gas(over) })
            }
            Mount::WetLeg { top, fill, gas: over } => json!({
                "kind": "wet_leg", "top": metres(top), "heights_from": "tape", "vapour_density": gas(over),
                "fill": second("glycol and water", fill),
            }),
            Mount::OneSeal { tap, fill } => json!({
                "kind": "one_seal", "tap": metres(tap), "heights_from": "tape", "fill": second("oil", fill),
            }),
            Mount::TwoSeals { tap, top, fill, gas: over } => json!({
                "kind": "two_seals", "tap": metres(tap), "top": metres(top), "heights_from": "tape",
                "vapour_density": gas(over), "fill": second("oil", fill),
            }),
            Mount::Interface { top, light, fill } => json!({
                "kind": "interface", "top": metres(top), "heights_from": "tape", "light": second("oil", light),
                "fill": second("water with salt", fill),
            }),
        })
    }
}

impl Visit {
    /// Draws what the mounting's own measures are off by, and stands the columns up.
    pub(crate) fn stand_up(&mut self) {
        let mount = self.site.mount;
        let mut normal = |is: bool, standard| is.then(|| self.source(Shape::Normal(standard)));
        let filled = matches!(
            mount,
            Mount::WetLeg { .. } | Mount::OneSeal { .. } | Mount::TwoSeals { .. } | Mount::Interface { .. }
        );
        let to_top = matches!(mount, Mount::DryLeg { .. } | Mount::WetLeg { .. } | Mount::Interface { .. });
        let to_tap = matches!(mount, Mount::OneSeal { .. } | Mount::TwoSeals { .. });
        let own = Own {
            fill: normal(filled, SECOND),
            top: normal(to_top, HEIGHT),
            tap: normal(to_tap, HEIGHT),
            line: matches!(mount, Mount::OwnLine(_)).then(|| self.source(Shape::Rectangle(USUAL))),
        };
        self.own = own;
        let true_ones = [own.fill, own.top, own.tap, own.line].map(|one| one.map_or(0.0, |one| one.1));
        let off = self.site.off(self.common_errors, true_ones);
        self.truth.head = mount.head(&off, self.truth.height);
        let stated = self.site.off([0.0; 4], [0.0; 4]);
        let nominal = mount.head(&stated, mount.measured(self.site.riser));
        self.truth.offset = 1500.0 * self.chance.normal() - nominal;
    }

    /// What the columns press for one draw of the errors, with the height that was measured.
    pub(crate) fn head_over(&self, measured: (f64, Source)) -> impl Fn(&Drawn<'_>) -> f64 + use<> {
        let (site, own, common) = (self.site.clone(), self.own, self.common);
        move |drawn| {
            let height = measured.0 + drawn.errors[measured.1];
            if matches!(site.mount, Mount::Riser | Mount::Probe) {
                return drawn.gradient * height;
            }
            let error = |one: Option<(Source, f64)>| one.map_or(0.0, |one| drawn.errors[one.0]);
            let everywhere =
                [common.kelvin, common.composition, common.gravity, common.air].map(|id| drawn.errors[id]);
            let own = [own.fill, own.top, own.tap, own.line].map(error);
            site.mount.head(&site.off(everywhere, own), height)
        }
    }
}
