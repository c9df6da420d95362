//! What the mounting has to say in a visit: what it assumes and what it warns of.

use uom::si::f64::{Length, Ratio};
use uom::si::ratio::ratio;

use super::conditions::Conditions;
use super::{Doubt, Known, PieceKind, Remark, Show};
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
