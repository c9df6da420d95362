//! What a step or a drift of the standing offset likely comes from, by the mounting, and how to tell.
//!
//! The standing offset is what takes the display down to the level: when the display of an untouched unit creeps up, the offset
//! that is called for goes down by as much. Common practice, no source.

use uom::si::f64::Pressure;
use uom::si::pressure::pascal;

use crate::head::mounting::Mounting;
use crate::history::{Drift, History, OffsetStep};

/// What something likely comes from, likeliest first, and how to tell.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Likely {
    pub(super) causes: &'static str,
    pub(super) apart: &'static str,
}

const fn likely(causes: &'static str, apart: &'static str) -> Option<Likely> {
    Some(Likely { causes, apart })
}

/// Returns what a step likely comes from.
pub(super) fn of_step(mounting: &Mounting, history: &History, step: &OffsetStep) -> Option<Likely> {
    let display_fell = step.size > Pressure::default();
    match mounting {
        Mounting::WetLeg { .. } | Mounting::Interface { .. } if display_fell && leaks(history) => likely(
            "a leaking leg that was refilled: between refills the display creeps up",
            "compare the dates of refills with the steps; look for wet fittings along the leg",
        ),
        Mounting::WetLeg { .. } | Mounting::Interface { .. } if display_fell => likely(
            "the leg was topped up; or refilled with a denser liquid",
            "look for a refill on that date; a sample of the fill tells the second from the first",
        ),
        Mounting::WetLeg { .. } | Mounting::Interface { .. } => likely(
            "the leg lost liquid (a drain, an equalising valve opened with the others); or was refilled with a lighter liquid",
            "look whether the leg takes liquid up to its top by the site's own procedure; a full one holds another fill",
        ),
        Mounting::DryLeg { .. } if display_fell => likely(
            "condensate gathered in the dry leg",
            "drain the leg at its lowest point by the site's own procedure and read again",
        ),
        Mounting::DryLeg { .. } => likely(
            "the dry leg was drained of condensate that stood in it before",
            "look for a draining on that date; see whether it fills again",
        ),
        Mounting::OneSeal { .. } | Mounting::TwoSeals { .. } => likely(
            "a seal or capillary was changed or moved, or lost fill; or the capillaries were much warmer or colder that day",
            "look for work on that date; read again at another temperature: a fill's error moves with it, the rest stays",
        ),
        Mounting::Probe { .. } => likely(
            "the probe was lifted or hung anew; or its vent tube is shut, and the weather stands in it",
            "measure the cable from its clamp down; read again when the barometer has moved: a shut vent follows it",
        ),
        Mounting::Riser { .. } | Mounting::AboveDatum { .. } => likely(
            "a vent that was shut or cleared, with the weather in it; a transmitter or mounting touched without a note; air in the line",
            "read again when the barometer has moved: a shut vent follows it; bleed the line: air goes, the rest stays",
        ),
    }
}

/// Returns what a drift likely comes from, where it shows.
pub(super) fn of_drift(mounting: &Mounting, history: &History) -> Option<Likely> {
    let drift = history.drift.as_ref().ok().filter(|drift| drift.shows())?;
    let display_rises = drift.per_year < Pressure::default();
    match mounting {
        Mounting::WetLeg { .. } | Mounting::Interface { .. } if display_rises => likely(
            "a leaking leg: as it loses liquid the display rises",
            "look at the leg's pot and for wet fittings; top it up by the site's own procedure: the display steps back down",
        ),
        Mounting::DryLeg { .. } if !display_rises => likely(
            "condensate that gathers in the dry leg",
            "drain the leg at its lowest point by the site's own procedure and read again; have its trap or slope looked at",
        ),
        Mounting::OneSeal { .. } | Mounting::TwoSeals { .. } => likely(
            "a seal that slowly loses fill; or the sensor ages",
            "a seal without fill answers late and less at high levels; a sensor that ages is off by the same everywhere",
        ),
        Mounting::Probe { .. } => likely(
            "a drying cartridge that is spent; growth on the probe; or the sensor ages",
            "change the drying cartridge and clean the probe, then read again",
        ),
        _ => likely(
            "the sensor ages; or its mounting settles",
            "a vented check shows the sensor's own part alone",
        ),
    }
}

/// A leg that leaks: between steps that bring the display down again it rises.
fn leaks(history: &History) -> bool {
    let rises = |drift: &Drift| drift.per_year.get::<pascal>() < 0.0;
    history.drift.as_ref().is_ok_and(rises)
}

#[cfg(test)]
mod tests {
    use rstest::rstest;
    use uom::si::f64::{Length, Time};
    use uom::si::length::meter;
    use uom::si::time::day;

    use super::*;
    use crate::head::Liquid;
    use crate::history::{Seen, look};

    fn metres(value: f64) -> Length {
        Length::new::<meter>(value)
    }

    fn wet() -> Mounting {
        Mounting::WetLeg { riser: metres(2.0), top: metres(9.0), fill: Liquid::water() }
    }

    fn dry() -> Mounting {
        Mounting::DryLeg { riser: metres(2.0), top: metres(9.0) }
    }

    /// Half-yearly visits, each known to 50 Pa, with the standing offsets given.
    fn history(offsets: &[f64]) -> History {
        let seen: Vec<Seen> = (0..)
            .zip(offsets)
            .map(|(place, offset)| Seen {
                at: Time::new::<day>(182.6 * f64::from(place)),
                offset: Pressure::new::<pascal>(*offset),
                standard: Some(Pressure::new::<pascal>(50.0)),
                serial: "A1".into(),
                moved: false,
            })
            .collect();
        look(&seen)
    }

    /// The display of a leaking leg rises by 600 Pa in half a year, and the refill takes back what was lost.
    fn leaking() -> History {
        history(&[0.0, -600.0, -1200.0, -1800.0, 0.0, -600.0, -1200.0, -1800.0])
    }

    #[test]
    fn a_leaking_leg_rises_and_steps_down_at_each_refill() {
        let history = leaking();
        let [step] = history.steps.as_slice() else { panic!("{:?}", history.steps) };
        assert!(step.size.get::<pascal>() > 1000.0);
        assert!(
            of_step(&wet(), &history, step).unwrap().causes.starts_with("a leaking leg that was refilled")
        );
        assert!(of_drift(&wet(), &history).unwrap().causes.starts_with("a leaking leg"));
        // The same numbers at a dry leg are no leak: a display that rises there gathers no condensate.
        assert!(!of_drift(&dry(), &history).unwrap().causes.contains("condensate"));
    }

    #[rstest]
    #[case::gathered(dry(), 1500.0, "condensate gathered")]
    #[case::drained(dry(), -1500.0, "the dry leg was drained")]
    #[case::topped_up(wet(), 1500.0, "the leg was topped up")]
    #[case::lost(wet(), -1500.0, "the leg lost liquid")]
    #[case::probe(Mounting::Probe { riser: metres(1.0) }, 1500.0, "the probe was lifted")]
    #[case::riser(Mounting::Riser { riser: metres(9.0) }, -1500.0, "a vent that was shut")]
    fn a_step_has_the_causes_of_its_mounting(
        #[case] mounting: Mounting,
        #[case] size: f64,
        #[case] starts: &str,
    ) {
        let history = history(&[0.0, 20.0, -10.0, 10.0, size, size + 20.0, size - 10.0, size + 10.0]);
        let [step] = history.steps.as_slice() else { panic!("{:?}", history.steps) };
        let found = of_step(&mounting, &history, step).unwrap();
        assert!(found.causes.starts_with(starts), "{found:?}");
    }

    // The offset that is called for falls as the display rises.
    #[rstest]
    #[case::leg_rises(wet(), -400.0, "a leaking leg")]
    #[case::leg_sinks(wet(), 400.0, "the sensor ages; or its mounting settles")]
    #[case::dry_leg_sinks(dry(), 400.0, "condensate that gathers")]
    #[case::dry_leg_rises(dry(), -400.0, "the sensor ages; or its mounting settles")]
    #[case::probe(Mounting::Probe { riser: metres(1.0) }, 400.0, "a drying cartridge")]
    #[case::seal(
        Mounting::OneSeal { riser: metres(2.0), tap: metres(0.0), fill: Liquid::water() },
        400.0,
        "a seal that slowly loses fill"
    )]
    #[case::riser(Mounting::Riser { riser: metres(9.0) }, -400.0, "the sensor ages; or its mounting settles")]
    fn a_drift_has_the_causes_of_its_mounting(
        #[case] mounting: Mounting,
        #[case] each: f64,
        #[case] starts: &str,
    ) {
        let drifts = history(&[0.0, 1.0, 2.0, 3.0, 4.0].map(|visit| visit * each));
        let found = of_drift(&mounting, &drifts).unwrap();
        assert!(found.causes.starts_with(starts) && found.apart.len() > 20, "{found:?}");
    }

    #[test]
    fn condensate_lets_the_display_sink_and_what_does_not_show_has_no_cause() {
        let sinks = history(&[0.0, 400.0, 800.0, 1200.0, 1600.0]);
        assert!(of_drift(&dry(), &sinks).unwrap().causes.starts_with("condensate"));
        assert_eq!(of_drift(&dry(), &history(&[0.0, 10.0, -10.0, 5.0])), None);
    }
}
