//! A tower as its register has it, and as it is.

use suite::Chance;

use crate::mounts::{Columns, PLAIN};

/// The units of a display: how a register writes it, and how many places it shows.
#[derive(Clone, Copy, PartialEq)]
pub(crate) struct Display {
    pub(crate) symbol: &'static str,
    pub(crate) places: usize,
    /// Pascals in one; none for a length of the liquid.
    pascals: Option<f64>,
    metres: f64,
}

const PSI: f64 = 6_894.757_293_168_361;

pub(crate) const DISPLAYS: [Display; 4] = [
    Display { symbol: "ft", places: 2, pascals: None, metres: 0.3048 },
    Display { symbol: "m", places: 3, pascals: None, metres: 1.0 },
    Display { symbol: "psi", places: 3, pascals: Some(PSI), metres: 0.0 },
    Display { symbol: "kPa", places: 2, pascals: Some(1000.0), metres: 0.0 },
];

/// What a register says, in metres, degrees and pascals.
#[derive(Clone)]
pub(crate) struct Register {
    pub(crate) feet: bool,
    pub(crate) display: Display,
    pub(crate) latitude: f64,
    pub(crate) altitude: f64,
    pub(crate) season: f64,
    pub(crate) riser: f64,
    pub(crate) riser_from: (&'static str, f64),
    pub(crate) span: f64,
    pub(crate) floor: f64,
    pub(crate) sill: f64,
    pub(crate) hatch: f64,
    pub(crate) overflow: f64,
    pub(crate) tolerance: f64,
    pub(crate) url: f64,
    pub(crate) accuracy: f64,
    pub(crate) allowance: f64,
    pub(crate) tape: f64,
    /// Pascals a metre of the liquid presses, as the day is taken to be.
    pub(crate) metre: f64,
    /// What is in the tank.
    pub(crate) liquid: Liquid,
    /// What stands over it: nothing for the air.
    pub(crate) gas: Option<f64>,
    /// What is on the other side, or between the tank and the sensor: pascals over what the riser presses.
    pub(crate) beside: f64,
    /// Its heights and fill.
    pub(crate) columns: Columns,
    /// The liquid's temperature as measured today, degC; none for the season's.
    pub(crate) measured: Option<f64>,
    /// Members of the row beyond those of a plain tower.
    pub(crate) more: Vec<String>,
}

/// What is in a tank.
#[derive(Clone, Copy, PartialEq)]
pub(crate) enum Liquid {
    Water,
    /// Density at 15 degC, expansion per kelvin, standard uncertainty as a share.
    Other(f64, f64, f64),
}

impl Liquid {
    pub(crate) fn density(self, celsius: f64) -> f64 {
        match self {
            Liquid::Water => water(celsius),
            Liquid::Other(density, expansion, _) => density / (1.0 + expansion * (celsius - 15.0)),
        }
    }

    /// What its composition may make of its density, as a share, standard; water's is common practice.
    pub(crate) fn composition(self) -> f64 {
        match self {
            Liquid::Water => 0.0002,
            Liquid::Other(_, _, share) => share,
        }
    }

    fn written(self) -> String {
        match self {
            Liquid::Water => r#"{"name":"water"}"#.to_owned(),
            Liquid::Other(density, expansion, share) => format!(
                r#"{{"name":"brine","density":"{density} kg/m3","at":"15 degC","expansion":"{expansion}","uncertainty":"{} %"}}"#,
                share * 100.0
            ),
        }
    }
}

/// A length as a drawing or a survey would have it: whole eighths of an inch, or whole millimetres.
fn drawn(feet: bool, metres: f64) -> f64 {
    let step = if feet { 0.0254 / 8.0 } else { 0.001 };
    (metres / step).round() * step
}

impl Register {
    pub(crate) fn any(chance: &mut Chance) -> Register {
        let feet = chance.often(0.5);
        let display = if feet {
            chance.one_of(&[DISPLAYS[0], DISPLAYS[0], DISPLAYS[2]])
        } else {
            chance.one_of(&[DISPLAYS[1], DISPLAYS[1], DISPLAYS[3]])
        };
        let span = drawn(feet, chance.between(4.0, 12.0));
        let overflow = drawn(feet, span + chance.between(0.05, 0.6));
        let riser_from = chance.one_of(&[("tape", 0.006), ("laser", 0.004), ("drawing", 0.025)]);
        let (latitude, altitude) = (chance.between(-50.0, 60.0), chance.between(0.0, 1800.0));
        let season = chance.between(6.0, 24.0);
        let riser = drawn(feet, chance.between(6.0, 30.0));
        let metre = (water(season) - air(altitude)) * gravity(latitude, altitude);
        let zero_floor = chance.often(0.5);
        Register {
            feet,
            display,
            latitude,
            altitude,
            season,
            riser,
            riser_from,
            span,
            floor: if zero_floor { 0.0 } else { drawn(feet, chance.between(-0.9, -0.1)) },
            sill: if chance.often(0.5) { 0.0 } else { drawn(feet, chance.between(0.05, 0.3)) },
            hatch: drawn(feet, overflow + chance.between(0.3, 1.5)),
            overflow,
            tolerance: drawn(feet, chance.between(0.03, 0.06)),
            // The next usual sensor above what the tank can bring, with room for the slips that only shift a number.
            url: (metre * (riser + span) * 2.2 / PSI / 10.0).ceil() * 10.0 * PSI,
            accuracy: 0.0005,
            allowance: chance.between(50.0, 200.0),
            tape: 0.002,
            metre,
            liquid: Liquid::Water,
            gas: None,
            beside: 0.0,
            columns: PLAIN,
            measured: None,
            more: Vec::new(),
        }
    }

    /// Pascals a metre of the liquid presses at a temperature, by the register.
    pub(crate) fn metre_at(&self, celsius: f64) -> f64 {
        let gas = self.gas.unwrap_or_else(|| air(self.altitude));
        (self.liquid.density(celsius) - gas) * gravity(self.latitude, self.altitude)
    }

    /// What the liquid's density may be off by, as a share, standard: its season's temperature within 5 K, and what is in it.
    pub(crate) fn density_share(&self) -> f64 {
        let at = |by: f64| self.liquid.density(self.season + by);
        let warmth = (at(5.0) - at(-5.0)) / 2.0 / 3.0_f64.sqrt() / at(0.0);
        warmth.hypot(self.liquid.composition())
    }

    /// A length as this site would have it drawn.
    pub(crate) fn rounded(&self, metres: f64) -> f64 {
        drawn(self.feet, metres)
    }

    /// The display's number for a pressure.
    pub(crate) fn number(&self, pascals: f64) -> f64 {
        pascals / self.display.pascals.unwrap_or(self.metre * self.display.metres)
    }

    /// What the display's number stands for.
    pub(crate) fn pascals(&self, number: f64) -> f64 {
        number * self.display.pascals.unwrap_or(self.metre * self.display.metres)
    }

    pub(crate) fn written(&self, pascals: f64) -> String {
        format!("{:.*}", self.display.places, self.number(pascals))
    }

    pub(crate) fn length(&self, metres: f64) -> String {
        if !self.feet {
            return format!("{metres:.3} m");
        }
        let eighths = (metres.abs() / 0.0254 * 8.0).round() as u64;
        let (feet, rest) = (eighths / 96, eighths % 96);
        let sign = if metres < 0.0 && eighths > 0 { "-" } else { "" };
        match (rest / 8, rest % 8) {
            (inches, 0) => format!("{sign}{feet} ft {inches} in"),
            (0, parts) => format!("{sign}{feet} ft 0 {parts}/8 in"),
            (inches, parts) => format!("{sign}{feet} ft {inches} {parts}/8 in"),
        }
    }

    /// The row of the register file.
    pub(crate) fn row(&self) -> String {
        let length = |metres: f64| self.length(metres);
        let (lrv, urv) = ("0".to_owned(), self.written(self.metre * self.span));
        format!(
            r#"{{"tag":"LT-1","service":"tower","serial":"A-1","unit":"{}","riser":"{}","riser_from":"{}",
            "site":{{"name":"Sedge Hill","latitude":"{:.6}","altitude":"{:.2} m","liquid_temperature":"{:.3} degC","lengths":"{}"}},
            "liquid":{},"span":"{}","lrv":"{lrv}","urv":"{urv}","floor":"{}","sill":"{}","hatch":"{}","overflow":"{}",
            "limits":{{"lrl":"-{:.3} kPa","url":"{:.3} kPa","min_span":"1 kPa","max_working":"{:.3} kPa","accuracy":"{:.3} %","zero_allowance":"{:.2} Pa"}},
            "tapes":[{{"id":"T1","uncertainty":"{:.1} mm"}}],
            "tolerance":"{}","trim_rule":"true_at_zero","head_plan":"head_in_offset"{}}}"#,
            self.display.symbol,
            length(self.riser),
            self.riser_from.0,
            self.latitude,
            self.altitude,
            self.season,
            if self.feet { "ft" } else { "m" },
            self.liquid.written(),
            length(self.span),
            length(self.floor),
            length(self.sill),
            length(self.hatch),
            length(self.overflow),
            self.url / 1000.0,
            self.url / 1000.0,
            // A differential cell bears the vessel on either side.
            self.url / 500.0 + if self.gas.is_some() { 1000.0 } else { 0.0 },
            self.accuracy * 100.0,
            self.allowance,
            self.tape * 1000.0,
            length(self.tolerance),
            self.more.iter().map(|more| format!(",{more}")).collect::<String>(),
        )
    }
}

/// The tower as it is on the day.
#[derive(Clone)]
pub(crate) struct Truth {
    pub(crate) celsius: f64,
    pub(crate) gravity: f64,
    /// Density of the liquid.
    pub(crate) density: f64,
    /// Density of what stands over the liquid.
    pub(crate) gas: f64,
    /// Pascals a metre presses.
    pub(crate) metre: f64,
    pub(crate) riser: f64,
    pub(crate) floor: f64,
    pub(crate) sill: f64,
    pub(crate) hatch: f64,
    /// What the tape adds to every length.
    pub(crate) tape: f64,
    /// The sensor's zero, and what it is off by under head.
    pub(crate) zero: f64,
    pub(crate) under_head: f64,
    /// As the register's, with what is true.
    pub(crate) beside: f64,
    pub(crate) columns: Columns,
    /// What dips of this surface scatter, standard.
    pub(crate) scatter: f64,
}

impl Truth {
    /// Everything is off by what the register or common practice says it may be off by.
    pub(crate) fn of(register: &Register, chance: &mut Chance) -> Truth {
        let mark = |at: f64, chance: &mut Chance| if at == 0.0 { 0.0 } else { at + chance.normal(0.004) };
        let celsius = register.season + chance.within(5.0);
        let density = register.liquid.density(celsius) * (1.0 + chance.normal(register.liquid.composition()));
        let gas = register.gas.unwrap_or_else(|| air(register.altitude)) * (1.0 + chance.normal(0.05));
        let gravity = gravity(register.latitude, register.altitude) + chance.normal(4e-4);
        Truth {
            celsius,
            gravity,
            density,
            gas,
            metre: (density - gas) * gravity,
            riser: register.riser + chance.normal(register.riser_from.1),
            floor: mark(register.floor, chance),
            sill: mark(register.sill, chance),
            hatch: mark(register.hatch, chance),
            tape: chance.normal(register.tape),
            zero: chance.within(register.allowance),
            under_head: chance.normal(register.url * register.accuracy / 2.0),
            beside: 0.0,
            columns: register.columns,
            scatter: 0.0012,
        }
    }
}

/// Water at 101 325 Pa: Tanaka and others, Metrologia 38 (2001), equation 1.
pub(crate) fn water(t: f64) -> f64 {
    let top = (t - 3.983_035).powi(2) * (t + 301.797);
    999.974_95 * (1.0 - top / (522_528.9 * (t + 69.348_81)))
}

/// Dry air at 15 degC under the barometric formula of an atmosphere of one temperature: within the 5 % of the weather.
pub(crate) fn air(altitude: f64) -> f64 {
    1.2225 * (-altitude / 8900.0).exp()
}

/// The international formula of 1980 with the plain free-air gradient.
pub(crate) fn gravity(latitude: f64, altitude: f64) -> f64 {
    let sine = latitude.to_radians().sin().powi(2);
    9.780_327 * (1.0 + 0.005_302_4 * sine - 0.000_005_8 * (2.0 * latitude.to_radians()).sin().powi(2))
        - 3.086e-6 * altitude
}

/// The air's pressure by the barometric formula, in pascals.
pub(crate) fn barometer(altitude: f64) -> f64 {
    101_325.0 * (1.0 - altitude / 44_330.8).powf(5.255_88)
}
