//! What holds for any mounting.

use proptest::prelude::*;

use super::measures::*;
use crate::quantity::ReadingUnit;

prop_compose! {
    /// Any of the presets with likely measures.
    fn installed()(
        which in 0usize..8,
        riser in -3.0..20.0_f64,
        tap in -2.0..0.0_f64,
        over in 0.05..3.0_f64,
        span in 0.5..12.0_f64,
        densities in (900.0..1300.0_f64, 700.0..890.0_f64, 600.0..1900.0_f64, 0.5..30.0_f64),
    ) -> Installed {
        let (process, light, fill, gas) = densities;
        let (top, fill) = (metres(span + over), liquid(fill, 0.001));
        let leg = riser.max(-span);
        let mounting = match which {
            0 => Mounting::Riser { riser: metres(riser.abs()) },
            1 => Mounting::AboveDatum { rise: metres(riser.abs() + 0.01) },
            2 => Mounting::DryLeg { riser: metres(leg), top },
            3 => Mounting::WetLeg { riser: metres(leg), top, fill },
            4 => Mounting::OneSeal { riser: metres(riser), tap: metres(tap), fill },
            5 => Mounting::TwoSeals { riser: metres(riser), tap: metres(tap), top, fill },
            6 => Mounting::Probe { riser: metres(riser) },
            _ => Mounting::Interface { riser: metres(leg), top, light: liquid(light, 0.001), fill },
        };
        let vapour = Some(Vapour::Density(dense(gas)));
        let vessel = Vessel { process: liquid(process, 0.0003), vapour, span: metres(span) };
        mounting.install(&vessel, &round()).unwrap()
    }
}

proptest! {
    #[test]
    fn exchanging_the_sides_turns_the_sign(installed in installed(), part in -0.5..1.5_f64) {
        let level = installed.span() * part;
        let swapped = installed.columns().clone().swapped();
        prop_assert_eq!(swapped.pressure_at(level), -installed.pressure_at(level));
        prop_assert_eq!(swapped.added_by(level), -installed.columns().added_by(level));
    }

    #[test]
    fn pressure_is_standing_head_and_level(installed in installed(), part in -0.5..1.5_f64) {
        let level = installed.span() * part;
        let sum = installed.standing_head() + installed.per_level().pressure(level);
        prop_assert!((pa(sum - installed.pressure_at(level))).abs() < 1e-6);
        prop_assert!((installed.level_at(sum) - level).abs() < metres(1e-8));
        prop_assert!((pa(installed.columns().added_by(level) - installed.per_level().pressure(level))).abs() < 1e-6);
    }

    /// Both sides end at the same place, so the heights of all media together cancel.
    #[test]
    fn what_stands_beyond_presses_alike(installed in installed(), part in -0.5..1.5_f64) {
        let level = installed.span() * part;
        let media = [Medium::Process, Medium::Line, Medium::Light, Medium::Fill, Medium::Vapour, Medium::Air];
        let sum: Length = media.iter().map(|medium| installed.columns().net_rise(*medium, level)).sum();
        prop_assert!(sum.abs() < metres(1e-9));
    }

    /// With two seals of one fill it does not matter where the transmitter hangs.
    #[test]
    fn the_own_height_cancels_between_two_seals(
        one in -5.0..5.0_f64, other in -5.0..5.0_f64, tap in -2.0..0.0_f64, span in 0.5..12.0_f64,
        fill in 600.0..1900.0_f64,
    ) {
        let at = |riser: f64| {
            let mounting = Mounting::TwoSeals {
                riser: metres(riser), tap: metres(tap), top: metres(span + 0.3), fill: liquid(fill, 0.001),
            };
            mounting.install(&vessel(liquid(1000.0, 0.0), span), &round()).unwrap()
        };
        let (one, other) = (at(one), at(other));
        prop_assert!((pa(one.standing_head() - other.standing_head())).abs() < 1e-6);
        prop_assert_eq!(one.per_level(), other.per_level());
        let moved = one.sensitivities(metres(0.0));
        let riser = moved.iter().find(|found| found.lever == Lever::Riser).unwrap();
        prop_assert!(pa(riser.adds).abs() < 1e-6);
    }

    /// A display's unit is how a pressure is written, no part of it.
    #[test]
    fn no_unit_of_the_display_moves_the_standing_head(installed in installed(), which in 0usize..7) {
        let unit = ["psi", "kPa", "ftH2O", "inH2O@68F", "mmH2O", "ft", "m"][which];
        let unit = ReadingUnit::parse(unit).unwrap();
        let liquid = installed.per_level();
        let there_and_back = |pressure| unit.pressure(unit.reading(pressure, liquid), liquid);
        let (head, urv) = (installed.standing_head(), installed.urv());
        prop_assert!(pa(there_and_back(head) - head).abs() < 1e-6);
        let metre = (there_and_back(urv) - there_and_back(head)) / installed.span().value;
        prop_assert!(pa(metre - liquid.pressure(metres(1.0))).abs() < 1e-5);
    }
}
