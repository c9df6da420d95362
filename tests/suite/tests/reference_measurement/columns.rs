//! Columns on either side of the sensor, against published examples of every mounting.

use domain::head::mounting::{Installed, Mounting};
use domain::head::{Gradient, mean_velocity};
use domain::quantity::{ReadingUnit, read_density};
use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Length, MassDensity, Pressure, Ratio, VolumeRate};
use uom::si::length::{foot, inch, meter, millimeter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::ratio::ratio;
use uom::si::velocity::foot_per_second;
use uom::si::volume_rate::gallon_per_second;

use crate::facts::{Fact, group};
use crate::mounting::{liquid, textbook};

const FACTS: &str = include_str!("../../reference/columns.json");

fn one(name: &str) -> Fact {
    group(FACTS, name, 1).remove(0)
}

fn shown(pressure: Pressure, unit: &str) -> f64 {
    ReadingUnit::parse(unit).unwrap().reading(pressure, Gradient::CONVENTIONAL_WATER)
}

fn sg(fact: &Fact, name: &str) -> String {
    format!("{} SG", fact.input(name))
}

fn levels(fact: &Fact, name: &str) -> Vec<Length> {
    fact.text(name).split(',').map(|level| Length::new::<foot>(level.parse().unwrap())).collect()
}

fn nowhere() -> Length {
    Length::default()
}

/// Currents of levels on a range from the first of them to the last.
fn currents(tank: &Installed, levels: &[Length]) -> Vec<f64> {
    let at = |level: &Length| tank.pressure_at(*level);
    let (lrv, urv) = (at(&levels[0]), at(&levels[levels.len() - 1]));
    levels.iter().map(|level| 4.0 + 16.0 * ((at(level) - lrv) / (urv - lrv)).get::<ratio>()).collect()
}

#[test]
fn a_gasoline_vessel_with_a_wet_leg() {
    let fact = one("wet_leg_at_levels");
    let (top, levels) = (Length::new::<foot>(fact.input("leg")), levels(&fact, "level"));
    let fill = liquid(&format!("{} lb/ft3", fact.input("gamma_leg")));
    let leg = Mounting::WetLeg { riser: nowhere(), top, fill };
    let tank = textbook(leg, &format!("{} lb/ft3", fact.input("gamma_process")), levels[4]);
    let pressures: Vec<f64> = levels.iter().map(|level| shown(tank.pressure_at(*level), "psi")).collect();
    fact.hold_all("dp", "psi", &pressures);
    fact.hold_all("mA", "mA", &currents(&tank, &levels));
}

#[test]
fn wet_legs() {
    let facts = group(FACTS, "wet_leg", 3);
    let leg = |fact: &Fact, riser, top, span| {
        textbook(Mounting::WetLeg { riser, top, fill: liquid(&sg(fact, "sg_leg")) }, &sg(fact, "sg"), span)
    };
    let [in_inches, in_millimetres, above] = [&facts[0], &facts[1], &facts[2]];
    // The zero of this one is the transmitter's height, its range begins above it.
    let inches = |name| Length::new::<inch>(in_inches.input(name));
    let tank = leg(in_inches, nowhere(), inches("leg"), inches("h100"));
    in_inches.hold("LRV", "inH2O", shown(tank.pressure_at(inches("h0")), "inH2O"));
    in_inches.hold("URV", "inH2O", shown(tank.pressure_at(inches("h100")), "inH2O"));
    let millimetres = |fact: &Fact, name| Length::new::<millimeter>(fact.input(name));
    let span = millimetres(in_millimetres, "span");
    let tank = leg(in_millimetres, nowhere(), millimetres(in_millimetres, "leg"), span);
    in_millimetres.hold("span", "mmH2O", shown(tank.urv() - tank.lrv(), "mmH2O"));
    in_millimetres.hold("LRV", "mmH2O", shown(tank.lrv(), "mmH2O"));
    in_millimetres.hold("URV", "mmH2O", shown(tank.urv(), "mmH2O"));
    let rise = millimetres(above, "rise");
    let tank = leg(above, -rise, rise + millimetres(above, "leg"), millimetres(above, "span"));
    above.hold("LRV", "mmH2O", shown(tank.lrv(), "mmH2O"));
    above.hold("URV", "mmH2O", shown(tank.urv(), "mmH2O"));
}

#[test]
fn a_dry_leg() {
    let fact = one("dry_leg");
    let span = Length::new::<millimeter>(fact.input("span"));
    let tank = textbook(Mounting::DryLeg { riser: nowhere(), top: span }, &sg(&fact, "sg"), span);
    fact.hold("LRV", "mmH2O", shown(tank.lrv(), "mmH2O"));
    fact.hold("URV", "mmH2O", shown(tank.urv(), "mmH2O"));
}

#[test]
fn an_interface_with_a_compensating_leg() {
    let fact = one("interface");
    let (top, levels) = (Length::new::<foot>(fact.input("leg")), levels(&fact, "interface"));
    let (light, fill) = (liquid(&sg(&fact, "sg_light")), liquid(&sg(&fact, "sg_fill")));
    let mounting = Mounting::Interface { riser: nowhere(), top, light, fill };
    let tank = textbook(mounting, &sg(&fact, "sg_heavy"), levels[4]);
    let pressures: Vec<f64> = levels.iter().map(|level| shown(tank.pressure_at(*level), "inH2O")).collect();
    fact.hold_all("dp", "inH2O", &pressures);
    fact.hold_all("mA", "mA", &currents(&tank, &levels));
    fact.hold("span", "inH2O", pressures[4] - pressures[0]);
}

/// Heights are above the lower seal. Wherever the transmitter hangs, both capillaries press alike.
#[test]
fn two_remote_seals() {
    let fact = one("two_seals");
    let metres = |name| Length::new::<meter>(fact.input(name));
    let fill = liquid(&sg(&fact, "sg_fill"));
    for riser in [metres("drop"), nowhere(), -metres("drop")] {
        let mounting = Mounting::TwoSeals { riser, tap: nowhere(), top: metres("tap_to_tap"), fill };
        let tank = textbook(mounting, &sg(&fact, "sg"), metres("h100"));
        fact.hold("LRV", "mmH2O", shown(tank.pressure_at(metres("h0")), "mmH2O"));
        fact.hold("URV", "mmH2O", shown(tank.pressure_at(metres("h100")), "mmH2O"));
    }
}

#[test]
fn one_remote_seal() {
    let fact = one("one_seal");
    let metres = |name| Length::new::<meter>(fact.input(name));
    let fill = liquid(&sg(&fact, "sg_fill"));
    let mounting = Mounting::OneSeal { riser: -metres("rise"), tap: nowhere(), fill };
    let tank = textbook(mounting, &sg(&fact, "sg"), metres("span"));
    fact.hold("LRV", "mmH2O", shown(tank.lrv(), "mmH2O"));
    fact.hold("URV", "mmH2O", shown(tank.urv(), "mmH2O"));
}

#[test]
fn a_tank_of_a_denser_liquid_than_it_was_ranged_for() {
    let fact = one("density_error");
    let level = Length::new::<foot>(fact.input("level"));
    let tank = |name| textbook(Mounting::Riser { riser: nowhere() }, &sg(&fact, name), level * 1.1);
    let (ranged, real) = (tank("sg_ranged"), tank("sg_true"));
    let error = ranged.error_when(&real, Ratio::new::<ratio>(1.0 / 1.1));
    fact.hold("indicated", "ft", (level + error).get::<foot>());
    fact.hold("ratio", "1", (real.pressure_at(level) / ranged.pressure_at(level)).get::<ratio>());
}

/// Water of a stated weight, in vacuum at standard gravity.
fn water(density: &str) -> Gradient {
    let standard = Acceleration::new::<meter_per_second_squared>(9.80665);
    let none = MassDensity::new::<kilogram_per_cubic_meter>(0.0);
    Gradient::new(read_density(density).unwrap().value, none, standard).unwrap()
}

#[test]
fn what_operators_of_waterworks_work_out() {
    let facts = group(FACTS, "under_water", 5);
    let feet = Length::new::<foot>;
    let [mains, shallow, tank, house, outlet] = [&facts[0], &facts[1], &facts[2], &facts[3], &facts[4]];
    let pressures: Vec<f64> = mains
        .inputs("H")
        .iter()
        .map(|height| shown(water("62.4 lb/ft3").pressure(feet(*height)), "psi"))
        .collect();
    mains.hold_all("p", "psi", &pressures);
    shallow.hold("p", "psi", shown(water("62.4 lb/ft3").pressure(feet(shallow.input("h"))), "psi"));
    // A flow for a second fills by its velocity times a second: the depth of a volume in a round tank.
    let rate = VolumeRate::new::<gallon_per_second>(tank.input("V"));
    let depth = mean_velocity(rate, feet(tank.input("D"))).get::<foot_per_second>();
    tank.hold("h", "ft", depth);
    tank.hold("p", "psi", shown(water("62.4 lb/ft3").pressure(feet(depth)), "psi"));
    let main = ReadingUnit::parse("psi").unwrap().pressure(house.input("p"), Gradient::CONVENTIONAL_WATER);
    // The source takes 2.31 ft a psi where the definition gives 2.306 658 73 (the published ratio in quantity.json): 0.23
    // ft in its 161.7 ft. Brought to the source's factor ours is the same head.
    let head = Gradient::CONVENTIONAL_WATER.length(main);
    house.hold("head", "ft", head.get::<foot>() * 2.31 / 2.306_658_73);
    let above = Gradient::CONVENTIONAL_WATER.pressure(head - feet(house.input("dz")));
    house.hold("p_house", "psi", shown(above, "psi"));
    let height = Length::new::<inch>(outlet.input("h"));
    outlet.hold("p", "psi", shown(water("62.43 lb/ft3").pressure(height), "psi"));
}

#[test]
fn the_fill_of_the_textbook() {
    let fact = one("fill");
    let density = |text: String| read_density(&text).unwrap().value;
    let water = density("62.4 lb/ft3".to_owned());
    let fill = density(format!("{} lb/ft3", fact.input("gamma")));
    fact.hold("sg", "1", (fill / water).get::<ratio>());
}
