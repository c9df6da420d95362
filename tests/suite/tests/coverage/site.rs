//! A tank and its transmitter, as its register row states them.

use domain::visit::Instrument;
use serde_json::json;

use crate::chance::Chance;
use crate::mount::{Mount, Off, SECOND};
use crate::nature::{self, Liquid};

/// A unit of display: its name in the register, what one of it presses, and how many decimals are written.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Unit {
    word: &'static str,
    presses: Presses,
    decimals: usize,
}

#[derive(Debug, Clone, Copy, PartialEq)]
enum Presses {
    /// So many pascals.
    Pascals(f64),
    /// So many metres of the liquid as it is taken to be today.
    Metres(f64),
}

/// The definitions of the units, written out: a foot is 0.3048 m, a pound 0.45359237 kg, standard gravity 9.80665.
const UNITS: [Unit; 8] = [
    Unit { word: "kPa", presses: Presses::Pascals(1000.0), decimals: 2 },
    Unit { word: "psi", presses: Presses::Pascals(0.45359237 * 9.80665 / (0.0254 * 0.0254)), decimals: 3 },
    Unit { word: "mbar", presses: Presses::Pascals(100.0), decimals: 1 },
    Unit { word: "inH2O", presses: Presses::Pascals(9806.65 * 0.0254), decimals: 1 },
    Unit { word: "ftH2O@68F", presses: Presses::Pascals(998.207 * 9.80665 * 0.3048), decimals: 2 },
    Unit { word: "mH2O@60F", presses: Presses::Pascals(999.016 * 9.80665), decimals: 3 },
    Unit { word: "ft", presses: Presses::Metres(0.3048), decimals: 2 },
    Unit { word: "m", presses: Presses::Metres(1.0), decimals: 3 },
];

/// A display that is read so finely that its steps do not matter.
const FINE: Unit = Unit { word: "kPa", presses: Presses::Pascals(1000.0), decimals: 5 };

/// A display in metres of water by convention, for the rule that makes it true at the referenced level.
pub(crate) const METRES_OF_WATER: Unit =
    Unit { word: "mH2O", presses: Presses::Pascals(9806.65), decimals: 3 };

/// A line of the register that may state less than is true.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Line {
    Tape,
    Accuracy,
    Allowance,
    Composition,
    /// The density of what fills a leg.
    Second,
}

/// Everything a register row states.
#[derive(Debug, Clone)]
pub(crate) struct Site {
    /// What is drawn is normal, and written down to the last digit.
    pub(crate) fine: bool,
    pub(crate) unit: Unit,
    pub(crate) liquid: Liquid,
    /// Share of the density by which its composition is off, standard.
    pub(crate) composition: f64,
    pub(crate) celsius: f64,
    pub(crate) latitude: f64,
    pub(crate) altitude: f64,
    pub(crate) riser: f64,
    pub(crate) span: f64,
    pub(crate) sill: f64,
    pub(crate) floor: f64,
    pub(crate) hatch: f64,
    /// Standard uncertainty of the tape, m.
    pub(crate) tape: f64,
    /// Standard uncertainty of the sensor between one pressure and another, Pa.
    pub(crate) accuracy: f64,
    /// Half-width of the sensor's own zero, Pa.
    pub(crate) allowance: f64,
    /// The line that states half of what is true.
    pub(crate) halved: Option<Line>,
    /// How the transmitter sits at it.
    pub(crate) mount: Mount,
    /// Density of what stands over the liquid, kg/m3.
    pub(crate) over: f64,
    /// Local gravity, m/s2.
    pub(crate) gravity: f64,
}

const URL: f64 = 500_000.0;
/// Standard uncertainty of the density of air, or of a vessel's gas, as a share.
pub(crate) const AIR: f64 = 0.05;

impl Site {
    pub(crate) fn drawn(chance: &mut Chance, fine: bool) -> Site {
        let survey = |height: f64| (height * 1000.0).round() / 1000.0;
        let span = survey(chance.between(6.0, 12.0));
        let celsius = (chance.between(9.0, 20.0) * 10.0).round() / 10.0;
        let latitude: f64 = (chance.between(-55.0, 60.0) * 10.0).round() / 10.0;
        let altitude = chance.between(0.0, 900.0).round();
        Site {
            fine,
            unit: if fine { FINE } else { chance.one_of(&UNITS) },
            liquid: if fine { Liquid::Brine } else { Liquid::Water },
            composition: if fine { 0.0004 } else { 0.0002 },
            celsius,
            latitude,
            altitude,
            riser: survey(chance.between(4.0, 25.0)),
            span,
            sill: survey(chance.between(0.03, 0.20)),
            floor: survey(chance.between(-0.40, 0.20)),
            hatch: survey(span + chance.between(0.8, 1.5)),
            tape: chance.one_of(&[0.002, 0.003, 0.004]),
            accuracy: URL * chance.one_of(&[0.0002, 0.0003, 0.0005]) / 2.0,
            allowance: chance.between(80.0, 200.0).round(),
            halved: None,
            mount: Mount::Riser,
            over: nature::air(altitude),
            gravity: nature::gravity(latitude, altitude),
        }
    }

    /// Pascals of one metre of the liquid, as the day is taken to be.
    pub(crate) fn gradient(&self) -> f64 {
        let off = self.off([0.0; 4], [0.0; 4]);
        (off.liquid - off.over) * off.gravity
    }

    /// Everything that presses, with temperature, composition, gravity and what stands over the liquid off by so much, and
    /// the mounting's own measures.
    pub(crate) fn off(&self, everywhere: [f64; 4], own: [f64; 4]) -> Off {
        let [kelvin, strength, gravity, over] = everywhere;
        Off {
            liquid: self.liquid.density(self.celsius + kelvin) * (1.0 + strength),
            strength,
            over: self.over * (1.0 + over),
            gravity: self.gravity + gravity,
            own,
        }
    }

    /// The overflow's crest above the tank's zero.
    pub(crate) fn crest(&self) -> f64 {
        self.span + 0.25
    }

    /// Pascals of one unit of the display.
    pub(crate) fn one(&self) -> f64 {
        match self.unit.presses {
            Presses::Pascals(pascals) => pascals,
            Presses::Metres(metres) => metres * self.gradient(),
        }
    }

    /// Pascals of the last digit written.
    pub(crate) fn step(&self) -> f64 {
        self.one() / 10_f64.powi(i32::try_from(self.unit.decimals).unwrap())
    }

    /// Writes a pressure as the display shows it, and returns what stands there with it.
    pub(crate) fn written(&self, pascals: f64) -> (String, f64) {
        let text = format!("{:.*}", self.unit.decimals, pascals / self.one());
        let read = text.parse::<f64>().unwrap() * self.one();
        (text, read)
    }

    /// Writes a length as read off a tape, and returns it with what its last digit stands for.
    pub(crate) fn length(&self, metres: f64) -> (String, f64, f64) {
        let decimals = if self.fine { 5 } else { 3 };
        let number = format!("{metres:.decimals$}");
        let read = number.parse::<f64>().unwrap();
        (format!("{number} m"), read, if self.fine { 1e-5 } else { 1e-3 })
    }

    fn stated(&self, line: Line, value: f64) -> f64 {
        if self.halved == Some(line) { value / 2.0 } else { value }
    }

    /// The register row.
    pub(crate) fn row(&self, rule: &str) -> Instrument {
        let percent = self.stated(Line::Composition, self.composition) * 100.0;
        let liquid = match self.liquid {
            Liquid::Water => json!({ "name": "water" }),
            Liquid::Brine => json!({
                "name": "brine", "density": "1100 kg/m3", "at": "15 degC", "uncertainty": format!("{percent} %"),
            }),
        };
        let metres = |height: f64| format!("{height:.3} m");
        let accuracy = self.stated(Line::Accuracy, self.accuracy) * 2.0 / URL * 100.0;
        let allowance = self.stated(Line::Allowance, self.allowance);
        let tape = self.stated(Line::Tape, self.tape) * 1000.0;
        let tapes = ["A", "B"].map(|id| json!({ "id": id, "uncertainty": format!("{tape} mm") }));
        let mut row = json!({
            "tag": "LT-1", "service": "level", "serial": "1", "unit": self.unit.word, "liquid": liquid,
            "site": {
                "name": "Tarn Lane", "lengths": "m", "latitude": self.latitude.to_string(),
                "altitude": format!("{} m", self.altitude), "liquid_temperature": format!("{:.1} degC", self.celsius),
            },
            "riser": metres(self.riser), "riser_from": "drawing", "span": metres(self.span),
            "lrv": "0", "urv": self.written(self.span * self.gradient()).0,
            "limits": {
                "lrl": format!("-{URL} Pa"), "url": format!("{URL} Pa"), "min_span": "1 kPa", "max_working": "2 MPa",
                "accuracy": format!("{accuracy} %"), "zero_allowance": format!("{allowance} Pa"),
            },
            "sill": metres(self.sill), "floor": metres(self.floor), "hatch": metres(self.hatch), "overflow": metres(self.crest()),
            "others": [
                { "name": "Float", "uncertainty": "18 mm" }, { "name": "Radar", "uncertainty": "18 mm", "shares": "hatch" },
                { "name": "Bell", "uncertainty": "18 mm", "shares": "density" },
            ],
            "tolerance": "60 mm", "trim_rule": rule, "head_plan": "head_in_offset", "tapes": tapes,
        });
        if let Some(mounted) = self.mount.row(self.stated(Line::Second, SECOND)) {
            row["mounting"] = mounted;
        }
        serde_json::from_value(row).unwrap()
    }
}
