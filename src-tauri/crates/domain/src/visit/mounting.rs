//! What the mounting has to say in a visit: what it assumes, what it warns of, and whether the evidence fits it.

use uom::si::f64::{Length, Pressure, Ratio};
use uom::si::length::meter;
use uom::si::ratio::ratio;

use super::conditions::Conditions;
use super::{Doubt, Draft, Known, PieceKind, Remark, Show};
use crate::evidence::Reconciled;
use crate::head::mounting::Mounting;

/// What to be warned of before evidence is taken.
pub(super) fn notes(conditions: &Conditions) -> Vec<Remark> {
    let said = conditions.installed.warnings();
    said.into_iter().map(|text| Remark::note("mounting.warning", text)).collect()
}

/// What is assumed of the columns. A riser under an open tank says so where a tank is called empty; saying it on every
/// visit would only be read over.
pub(super) fn assumptions(known: &Known, conditions: &Conditions) -> Vec<Remark> {
    if matches!(known.mounted.mounting, Mounting::Riser { .. }) {
        return Vec::new();
    }
    let said = conditions.installed.assumptions();
    said.into_iter().map(|text| Remark::note("assumed.mounting", format!("Assumed: {text}"))).collect()
}

/// An empty tank or a dip implies a standing head once the offset is known: it should be the one that the register's
/// measures make.
pub(super) fn unlike_register(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    result: &Reconciled,
) -> Option<Remark> {
    if draft.pieces.iter().any(|piece| piece.kind == PieceKind::Riser) {
        return None;
    }
    let carried = result.carried.as_ref()?;
    let show = Show::new(known, conditions.gradient);
    // What the display shows at level zero, less the offset, is standing head and the sensor's own zero together.
    let target = known.zero_reading(show.liquid());
    let at_zero = target - result.shift.value - carried.value;
    let head = conditions.installed.standing_head();
    let as_length = |pressure: Pressure| Length::new::<meter>(pressure.value / result.per_metre.value);
    let apart = as_length(at_zero - head);
    let allowance = as_length(known.sensor.zero_allowance).get::<meter>();
    let seen = as_length(result.shift.expanded).get::<meter>();
    let bound = 0.1 + 3.0 * Known::riser_standard(known.riser_from).get::<meter>() + allowance + seen;
    (apart.get::<meter>().abs() > bound).then(|| {
        let (text, cause) = unlike(known, &show, at_zero, head, apart);
        Remark::doubt(Doubt::RiserUnlike, text, format!("Likely {cause}. Look again before you trim."))
    })
}

fn unlike(
    known: &Known,
    show: &Show<'_>,
    at_zero: Pressure,
    head: Pressure,
    apart: Length,
) -> (String, &'static str) {
    let short = apart.get::<meter>() < 0.0;
    let mounting = &known.mounted.mounting;
    let cause = match (mounting, short) {
        (Mounting::WetLeg { .. } | Mounting::Interface { .. }, false) => {
            "a leg that has lost liquid, a dip from the wrong mark, or a wrong offset"
        }
        (Mounting::DryLeg { .. }, true) => {
            "condensate in the dry leg, a line that was not full, or a wrong offset"
        }
        (Mounting::OneSeal { .. } | Mounting::TwoSeals { .. }, _) => {
            "another fill or fill temperature than taken, a seal that stands elsewhere, or a wrong offset"
        }
        (Mounting::Probe { .. }, _) => "a probe that hangs elsewhere, a wet vent, or a wrong offset",
        (_, true) => "a riser that was not full, air in it, or a liquid lighter than taken",
        (_, false) => "a dip from the wrong mark, a wrong offset, or a moved transmitter",
    };
    let plain = matches!(mounting, Mounting::Riser { .. } | Mounting::AboveDatum { .. });
    let text = if plain {
        let (implied, riser) = (show.length(known.riser + apart), show.length(known.riser));
        format!("The evidence implies a riser of {implied}; the register has {riser}.")
    } else {
        let (implied, head) = (show.reading(at_zero), show.reading(head));
        format!("The evidence implies a standing head of {implied}; the register's measures make {head}.")
    };
    (text, cause)
}

/// What becomes of a unit that is set on a vessel at rest when the vessel is at work. Within the tolerance a note; past
/// it a doubt.
pub(super) fn hot(known: &Known, conditions: &Conditions) -> Option<Remark> {
    let (today, work) = (&conditions.installed, &conditions.at_work);
    if !known.mounted.mounting.is_closed() || today.state() == work.state() {
        return None;
    }
    let show = Show::new(known, conditions.gradient);
    let error = |part: f64| today.error_when(work, Ratio::new::<ratio>(part));
    let errors = [0.0, 0.25, 0.5, 0.75, 1.0].map(error);
    let worst = errors.iter().fold(Length::default(), |worst, error| worst.max(error.abs()));
    let said: Vec<String> = errors.iter().map(|error| show.signed(*error)).collect();
    let text = format!(
        "Today's evidence is reckoned in the vessel's state today. Set so, the unit will be off when the vessel is at work, by \
         {} at 0, 25, 50, 75 and 100 %.",
        said.join(", ")
    );
    Some(if worst > known.level.tolerance {
        Remark::doubt(
            Doubt::OffWhenHot,
            text,
            "Range it for the working state, or take the evidence when the vessel is at work.",
        )
    } else {
        Remark::note("mounting.at_work", text)
    })
}

/// Says why a kind of evidence makes no sense for a mounting, where it makes none.
#[must_use]
pub fn unfit(mounting: &Mounting, kind: PieceKind) -> Option<&'static str> {
    match kind {
        PieceKind::Vented if mounting.has_seals() => {
            Some("Seals stand between the vessel and the sensor: venting them shows nothing of its zero.")
        }
        PieceKind::Dip | PieceKind::Drop if mounting.is_closed() => {
            Some("The vessel is closed. A dip would need it opened, and that is no part of a visit.")
        }
        PieceKind::Overflow if mounting.is_closed() => {
            Some("The vessel is closed: there is no overflow to see.")
        }
        PieceKind::KnownEmpty if mounting.light().is_some() => {
            Some("What is measured is a surface under another liquid: it cannot be seen that it is at zero.")
        }
        PieceKind::EarlierVisit if mounting.fill().is_some() => Some(
            "A fill has a temperature of its own each day: what was the standing head then is not carried to today.",
        ),
        _ => None,
    }
}
