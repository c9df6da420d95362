//! What was seen and what was expected, where the numbers of the evidence do not fit each other.

use uom::si::f64::{Length, Pressure};
use uom::si::length::meter;
use uom::si::pressure::pascal;

use super::find::Visit;
use super::scene::{piece, spot};
use super::{Slip, words};
use crate::evidence::slips::{Cause, Misfitting, Scene};
use crate::evidence::{Amount, InputId};
use crate::head::mounting::Mounting;
use crate::visit::builder::Built;
use crate::visit::{Doubt, Key, Show, Spot, Step};

/// Tells a misfit: by the number that the likeliest slip is in.
pub(super) fn told(visit: &Visit<'_>, built: &Built, scene: &Scene, found: &Misfitting) -> Slip {
    let show = Show::new(visit.known, visit.conditions.gradient);
    let likeliest = found.causes.first().map(|likely| likely.cause);
    let suspect = likeliest.and_then(|cause| suspect(&cause, scene)).or(head(scene));
    let at = suspect.and_then(|input| spot(built, input));
    let (seen, expected) = match (likeliest, suspect) {
        (Some(Cause::Plugged | Cause::Reversed | Cause::Scaled { .. }), _) => slope(built, scene, &show),
        (_, Some(input)) if head(scene) == Some(input) => {
            of_the_register(visit, scene, found, &show).unwrap_or_else(misfit)
        }
        (_, Some(input)) => sides(built, found, input, at, &show),
        _ => misfit(),
    };
    let causes: Vec<_> =
        found.causes.iter().map(|likely| words::cause(visit, built, scene, &likely.cause)).collect();
    let apart = match causes.as_slice() {
        [] => "Read every number again: unit, sign, mark. More than one may be wrong.".to_owned(),
        [only] => only.tell.clone(),
        [first, second, ..] if first.tell == second.tell => first.tell.clone(),
        [first, second, ..] => format!("{} {}", first.tell, second.tell),
    };
    let step = match at.map(|at| at.key) {
        Some(
            Key::Dip
            | Key::RiserHeight
            | Key::VentedReading
            | Key::ReadingBefore
            | Key::ReadingAfter
            | Key::OtherLevel,
        ) => Step::Evidence,
        _ => Step::AsFound,
    };
    Slip { doubt: Doubt::SlipNumbers, step, piece: piece(at), seen, expected, causes, apart }
}

/// The register's number that everything else speaks against.
fn head(scene: &Scene) -> Option<InputId> {
    scene.register.as_ref().map(|register| register.head)
}

/// The number that a slip is in.
fn suspect(cause: &Cause, scene: &Scene) -> Option<InputId> {
    match cause {
        Cause::OffsetUnit { .. }
        | Cause::OffsetSign
        | Cause::OffsetTwice
        | Cause::OffsetMissing
        | Cause::OffsetChanged => scene.offset.map(|(input, _)| input),
        Cause::DisplayUnit { .. } | Cause::Absolute => {
            scene.readings.first().map(|shown| shown.input).or(scene.vented.first().copied())
        }
        Cause::LengthUnit { input, .. }
        | Cause::RoundStep { input, .. }
        | Cause::WrongMark { input, .. }
        | Cause::OtherWayUp { input }
        | Cause::OtherOff { input } => Some(*input),
        Cause::StubLeft { .. } => scene.vented.first().copied(),
        Cause::Air { .. }
        | Cause::Drained { .. }
        | Cause::Density { .. }
        | Cause::RegisterUnit { .. }
        | Cause::RiserUnlike
        | Cause::ProbeDepth { .. }
        | Cause::LegShort { .. }
        | Cause::LegWet { .. }
        | Cause::FillDensity { .. }
        | Cause::VentShut { .. }
        | Cause::Flow { .. }
        | Cause::OtherInstrument => head(scene),
        Cause::Plugged | Cause::Reversed | Cause::Scaled { .. } => None,
    }
}

/// What the evidence makes of the standing head, beside what the register's measures make of it: for a plain riser as its
/// height.
fn of_the_register(
    visit: &Visit<'_>,
    scene: &Scene,
    found: &Misfitting,
    show: &Show<'_>,
) -> Option<(String, String)> {
    let register = scene.register.as_ref()?;
    let riser = register.heights.first().filter(|_| {
        matches!(visit.known.mounted.mounting, Mounting::Riser { .. } | Mounting::AboveDatum { .. })
    });
    if let Some(riser) = riser {
        let implied = Length::new::<meter>(found.expected(riser.input)?);
        let seen = format!("The evidence implies a riser of {}.", show.length(implied));
        return Some((seen, format!("The register has {}.", show.length(riser.height))));
    }
    let more = Pressure::new::<pascal>(found.expected(register.head)?);
    Some((
        format!("The evidence implies a standing head of {}.", show.reading(scene.standing + more)),
        format!("The register's heights and fills make {}.", show.reading(scene.standing)),
    ))
}

fn misfit() -> (String, String) {
    ("The numbers of the evidence do not fit each other.".to_owned(), String::new())
}

/// A number as typed beside what the others want it to be.
fn sides(
    built: &Built,
    found: &Misfitting,
    input: InputId,
    at: Option<Spot>,
    show: &Show<'_>,
) -> (String, String) {
    let value = built.case.input_named(input).map(crate::evidence::Input::value);
    let wanted = found.expected(input);
    let shown = |si: f64| match value {
        Some(Amount::Length(_)) => show.length(Length::new::<meter>(si)),
        _ => show.reading(Pressure::new::<pascal>(si)),
    };
    let (number, wanted) = match (value, wanted) {
        (Some(Amount::Length(length)), Some(wanted)) => (show.length(length), shown(wanted)),
        (Some(Amount::Pressure(pressure)), Some(wanted)) => (show.reading(pressure), shown(wanted)),
        _ => return misfit(),
    };
    let what = match at.map(|at| at.key) {
        Some(Key::OffsetValue) => "The offset",
        Some(Key::Dip) => "The dip or drop",
        Some(Key::RiserHeight) => "The measured riser",
        Some(Key::VentedReading) => "The vented reading",
        Some(Key::OtherLevel) => "The other instrument's level",
        _ => "The display",
    };
    let by = if at.map(|at| at.key) == Some(Key::RiserHeight) {
        "the register and the rest of the evidence"
    } else {
        "the riser and the rest of the evidence"
    };
    (format!("{what} is {number}."), format!("By {by} it would be {wanted}."))
}

/// How far the display moved, and how far the level did.
fn slope(built: &Built, scene: &Scene, show: &Show<'_>) -> (String, String) {
    let pressure = |input: InputId| match built.case.input_named(input).map(crate::evidence::Input::value) {
        Some(Amount::Pressure(pressure)) => Some(pressure),
        _ => None,
    };
    let first = scene.readings.first();
    let last = scene.readings.iter().rev().find(|shown| {
        let from = first.and_then(|first| first.level);
        shown.level.zip(from).is_some_and(|(one, other)| (one - other).abs().get::<meter>() > 0.02)
    });
    let moved = first.zip(last).and_then(|(first, last)| {
        let shown = pressure(last.input)? - pressure(first.input)?;
        Some((shown, last.level? - first.level?))
    });
    let Some((shown, level)) = moved else {
        return ("The display does not follow the level.".into(), String::new());
    };
    let wanted = scene.per_metre * level.get::<meter>();
    (
        format!("The display moved by {}.", show.change(shown)),
        format!("The level moved by {}, which presses {}.", show.signed(level), show.change(wanted)),
    )
}
