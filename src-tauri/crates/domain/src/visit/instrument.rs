//! One row of the register: an instrument, where it stands and what is known of it.
//!
//! Measured values are kept as people wrote them ("31 ft 4 in", "14.62 m"), so that a record shows what the
//! register said, and are read by [`crate::quantity`] when they are needed. The register's file format is
//! this structure as JSON.

use serde::{Deserialize, Serialize};

use super::{Earlier, Mounted, Overpressure, RiserPipe};

/// An instrument as the register knows it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Instrument {
    /// The tag (ISA-5.1), unique within the register.
    pub tag: String,
    /// What it measures, in words.
    pub service: String,
    /// Serial number on the nameplate.
    pub serial: String,
    /// Texts of the codes that lead to this instrument, compared whole.
    #[serde(default)]
    pub codes: Vec<String>,
    /// Where it stands.
    pub site: Site,
    /// The liquid.
    pub liquid: Liquid,
    /// The unit of the display: `ft`, `m` (of this liquid), `ftH2O`, `inH2O@60F`, `psi`, `kPa`, ...
    pub unit: String,
    /// Riser height: tank zero above the sensing point; negative when the transmitter stands above.
    pub riser: String,
    /// Where that height comes from: `tape`, `laser` or `drawing`.
    pub riser_from: String,
    /// Level at 100 %, above the tank's zero.
    pub span: String,
    /// LRV, in the display unit (number alone).
    pub lrv: String,
    /// URV, in the display unit (number alone).
    pub urv: String,
    /// True where 20 mA is the empty end.
    #[serde(default)]
    pub reverse: bool,
    /// Sensor limits.
    pub limits: Limits,
    /// Outlet sill above the tank's zero; empty when it is the zero.
    #[serde(default)]
    pub sill: String,
    /// Tank floor where the dip stands, above the tank's zero; empty when it is the zero.
    #[serde(default)]
    pub floor: String,
    /// The hatch mark above the tank's zero; empty when there is none.
    #[serde(default)]
    pub hatch: String,
    /// The overflow crest above the tank's zero; empty when unknown.
    #[serde(default)]
    pub overflow: String,
    /// Other heights on this site that a tape may be taken from by mistake: a flange, a slab, the ground.
    #[serde(default)]
    pub elevations: Vec<Elevation>,
    /// What the level may be wrong by (a length, or `0.5 %` of span).
    pub tolerance: String,
    /// The least error worth adjusting; empty for half the tolerance.
    #[serde(default)]
    pub adjust_limit: String,
    /// `true_at_zero` or `true_at_reference`.
    pub trim_rule: String,
    /// Where the utility wants the standing head taken out: `head_in_offset` or `head_in_range`.
    pub head_plan: String,
    /// The offset by the last record, in the display unit (number alone), and its date; empty when none.
    #[serde(default)]
    pub offset_on_record: String,
    /// The date of that record.
    #[serde(default)]
    pub offset_date: String,
    /// How this unit is adjusted: the utility's own note.
    #[serde(default)]
    pub adjust_note: String,
    /// The site's own safety items, shown before the default ones.
    #[serde(default)]
    pub safety: Vec<String>,
    /// What must be back before signing; the usual items when left empty.
    #[serde(default)]
    pub back: Vec<String>,
    /// Tapes that may be used here.
    #[serde(default)]
    pub tapes: Vec<Tape>,
    /// Other instruments on this tank, each with a sensor of its own.
    #[serde(default)]
    pub others: Vec<Other>,
    /// Who may do what here, for what is proposed to be measured next.
    #[serde(default)]
    pub crew: Crew,
    /// The interval between visits that is in force (`12 months`, `2 years`); empty when none is stated.
    #[serde(default)]
    pub interval: String,
    /// Earlier visits, oldest first.
    #[serde(default)]
    pub earlier: Vec<Earlier>,
    /// Where it stands on the map (`39.2043, -98.9127`), to find what is near; empty when unknown.
    #[serde(default)]
    pub position: String,
    /// The day its next visit is due (`2026-11-30`); empty when none is planned.
    #[serde(default)]
    pub due: String,
    /// Why it stands on the work list, in the utility's words; empty when it does not.
    #[serde(default)]
    pub work: String,
    /// True when this loop trips, cuts out or protects something: refused here.
    #[serde(default)]
    pub safety_function: bool,
    /// How the transmitter is mounted; none for a riser under an open tank, or above the zero where the riser is
    /// negative.
    #[serde(default)]
    pub mounting: Option<Mounted>,
    /// The riser as a pipe that carries flow; none where nobody has described it.
    #[serde(default)]
    pub riser_pipe: Option<RiserPipe>,
    /// What presses on the sensor beside the standing column.
    #[serde(default)]
    pub overpressure: Overpressure,
}

/// Where an instrument stands.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Site {
    /// Its name.
    pub name: String,
    /// Latitude in degrees, north positive (number as written).
    pub latitude: String,
    /// Altitude above sea level (length).
    pub altitude: String,
    /// What must be known before a phone is taken out.
    #[serde(default)]
    pub hazards: Hazards,
    /// The liquid's usual temperature this season (`12 degC`, `54 degF`).
    pub liquid_temperature: String,
    /// The coldest the liquid gets; empty when unknown.
    #[serde(default)]
    pub coldest: String,
    /// The warmest the liquid gets; empty when unknown.
    #[serde(default)]
    pub warmest: String,
    /// Length units people use there: `ft` or `m`.
    pub lengths: String,
}

/// The one line that stands before anything is scanned.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub struct Hazards {
    /// True inside a classified hazardous area.
    #[serde(default)]
    pub zoned: bool,
    /// True in a pit, vault or other confined space.
    #[serde(default)]
    pub pit: bool,
    /// The permit needed; empty for none.
    #[serde(default)]
    pub permit: String,
    /// False where a phone may not be used.
    #[serde(default = "yes")]
    pub phone_allowed: bool,
    /// Anything else, in the site's words.
    #[serde(default)]
    pub note: String,
}

fn yes() -> bool {
    true
}

/// What is in the tank.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Liquid {
    /// `water`, or the liquid's name.
    pub name: String,
    /// For another liquid: its density with unit (`1180 kg/m3`); empty for water.
    #[serde(default)]
    pub density: String,
    /// The temperature that density holds at.
    #[serde(default)]
    pub at: String,
    /// Its cubic expansion coefficient per kelvin (number as written).
    #[serde(default)]
    pub expansion: String,
    /// Density standard uncertainty, as a percentage (`0.02 %`); a default when empty.
    #[serde(default)]
    pub uncertainty: String,
    /// True for drinking water.
    #[serde(default)]
    pub drinking: bool,
    /// True when it is hot, pressurised, toxic or flammable: a procedure of its own.
    #[serde(default)]
    pub harmful: bool,
}

/// What the sensor can take. Each with its unit; gauge pressure.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limits {
    /// LRL, lower range limit.
    pub lrl: String,
    /// URL, upper range limit.
    pub url: String,
    /// Minimum span.
    pub min_span: String,
    /// Maximum working pressure.
    pub max_working: String,
    /// The largest offset that can be set; empty for no stated limit.
    #[serde(default)]
    pub trim_limit: String,
    /// Reference accuracy as a percentage of URL (`0.05 %`), taken as an expanded uncertainty, k = 2.
    pub accuracy: String,
    /// What the sensor's zero may have moved since it was last seen at atmosphere (with unit).
    pub zero_allowance: String,
}

/// A named height on a site.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub struct Elevation {
    /// What people call it: `flange`, `ground`, `slab`.
    pub name: String,
    /// Above the tank's zero; negative below it.
    pub height: String,
}

/// A dip tape.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub struct Tape {
    /// What is written on it.
    pub id: String,
    /// Standard uncertainty of a length read off it (`2 mm`).
    pub uncertainty: String,
    /// When its check is due (`2027-03-31`); empty when none is kept.
    #[serde(default)]
    pub due: String,
    /// Its linear expansion per kelvin (number as written); empty for steel's.
    #[serde(default)]
    pub expansion: String,
    /// The temperature it is true at; empty for 20 degC.
    #[serde(default)]
    pub at: String,
    /// The pull of its bob beyond the pull it is true under, in newtons (number as written); empty for none.
    #[serde(default)]
    pub pull: String,
    /// Its cross-section in square millimetres (number as written); needed where there is a pull.
    #[serde(default)]
    pub section: String,
    /// Its modulus of elasticity in gigapascals (number as written); empty for steel's.
    #[serde(default)]
    pub modulus: String,
}

/// Another instrument on the same tank.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Other {
    /// What people call it: its tag, or words.
    pub name: String,
    /// Expanded uncertainty (95 %) of the level it tells (`20 mm`).
    pub uncertainty: String,
    /// What it shares with other evidence, words apart by spaces: `hatch` where it is referred to the hatch mark,
    /// `density` where it too measures a pressure; empty for nothing.
    #[serde(default)]
    pub shares: String,
}

/// What site and crew permit.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Default)]
#[serde(deny_unknown_fields)]
pub struct Crew {
    /// True where a crew of two may climb here under the site's own permit.
    #[serde(default)]
    pub climb: bool,
    /// True where the hatch is reached without climbing.
    #[serde(default)]
    pub hatch_from_ground: bool,
    /// True where this line may never be isolated and vented.
    #[serde(default)]
    pub never_vent: bool,
}
