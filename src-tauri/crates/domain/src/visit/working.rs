//! The working, line by line: what an auditor follows with a pocket calculator.

use uom::si::acceleration::meter_per_second_squared;
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;

use super::builder::dip_rows;
use super::{
    Advised, Assessment, Choice, Draft, Key, Piece, PieceKind, Show, Spot, Timing, WorkLine, after_trim,
    earlier, five, flow, other, overflow, tape, vented, working_mounting,
};
use crate::evidence::Reconciled;
use crate::quantity::{TemperatureScale, print_decimal, print_temperature};

/// What the working calls the rule a verdict was reached by.
pub const DECISION_RULE: &str = "decision rule";

pub(super) fn line(what: impl Into<String>, how: impl Into<String>, value: impl Into<String>) -> WorkLine {
    WorkLine { what: what.into(), how: how.into(), value: value.into() }
}

/// Returns the working of an assessment.
pub(super) fn working(draft: &Draft, assessment: &Assessment) -> Vec<WorkLine> {
    let mut lines = column(draft, assessment);
    lines.extend(working_mounting::lines(assessment));
    lines.extend(flow::lines(draft, &assessment.known, &assessment.conditions, &assessment.entries));
    let pieces = draft.pieces.iter().filter(|piece| piece.timing == Timing::Before);
    lines.extend(pieces.flat_map(|piece| evidence(draft, assessment, piece)));
    let given = assessment.shift.advised != Advised::Blocked;
    if let Some(result) = assessment.shift.result.as_deref().filter(|_| given) {
        lines.extend(shift(draft, assessment, result));
        let show = Show::new(&assessment.known, assessment.conditions.gradient);
        let after = assessment.after.iter();
        lines.extend(after.flat_map(|left| after_trim::working(&show, left, result)));
    }
    for check in [&assessment.check_found, &assessment.check_left].into_iter().flatten() {
        let show = Show::new(&assessment.known, assessment.conditions.gradient);
        lines.extend(five::working(check, &show));
    }
    if !assessment.left.rule.is_empty() {
        lines.push(line(DECISION_RULE, assessment.left.rule.clone(), assessment.left.verdict.text.clone()));
    }
    lines.extend(assessment.past(draft).lines(&Show::new(&assessment.known, assessment.conditions.gradient)));
    lines
}

/// What a metre of liquid presses.
fn column(draft: &Draft, assessment: &Assessment) -> Vec<WorkLine> {
    let conditions = &assessment.conditions;
    let known = &assessment.known;
    let density = conditions.density.get::<kilogram_per_cubic_meter>();
    let air = conditions.air.get::<kilogram_per_cubic_meter>();
    let gravity = conditions.gravity.get::<meter_per_second_squared>();
    let over = density
        - conditions.gradient.pressure(uom::si::f64::Length::new::<meter>(1.0)).get::<pascal>() / gravity;
    let metre = conditions.gradient.pressure(uom::si::f64::Length::new::<meter>(1.0)).get::<pascal>();
    let when = if conditions.measured { "measured today" } else { "season's, from the register" };
    let temperature = print_temperature(conditions.temperature, TemperatureScale::Celsius);
    let source =
        if known.liquid.is_water() { "fit to IAPWS R6-95" } else { "register's density and expansion" };
    let one = known.unit.one(conditions.gradient).get::<pascal>();
    vec![
        line(
            "density of the liquid",
            format!("{} at {temperature} ({when}); {source}", draft.instrument.liquid.name),
            format!("{} kg/m3", print_decimal(density, 3)),
        ),
        line(
            "density of the air beside it",
            "CIPM-2007 at 15 degC, half saturated, standard pressure at this altitude",
            format!("{} kg/m3", print_decimal(air, 4)),
        ),
        line(
            "local gravity",
            format!("WGS 84 at {} deg, {}", draft.instrument.site.latitude, draft.instrument.site.altitude),
            format!("{} m/s2", print_decimal(gravity, 5)),
        ),
        line(
            "a metre of liquid presses",
            format!(
                "({} - {}) x {}",
                print_decimal(density, 3),
                print_decimal(over, 4),
                print_decimal(gravity, 5)
            ),
            format!("{} Pa", print_decimal(metre, 2)),
        ),
        line(
            format!("one {} of the display", known.unit.symbol()),
            known.unit.definition(),
            format!("{} Pa", print_decimal(one, 3)),
        ),
    ]
}

/// What each piece of evidence says.
fn evidence(draft: &Draft, assessment: &Assessment, piece: &Piece) -> Vec<WorkLine> {
    let show = Show::new(&assessment.known, assessment.conditions.gradient);
    let known = &assessment.known;
    match piece.kind {
        PieceKind::KnownEmpty => {
            vec![line("level, tank known empty", "surface at the outlet sill", show.both(known.sill))]
        }
        PieceKind::Dip | PieceKind::Drop => {
            let rows = dip_rows(draft, &assessment.entries, piece);
            let counting: Vec<_> = rows.iter().filter(|row| row.repeat.set_aside.is_none()).collect();
            let Some(first) = counting.first() else { return Vec::new() };
            let sum = counting.iter().skip(1).fold(first.repeat.length, |sum, row| sum + row.repeat.length);
            #[allow(clippy::cast_precision_loss)] // At most twenty dips.
            let mean = sum / counting.len() as f64;
            let texts: Vec<String> = counting.iter().map(|row| show.length(row.repeat.length)).collect();
            let hanging = tape::Hanging::of(draft, known, &assessment.entries, piece, mean);
            let (corrections, height) = hanging.working(&show);
            let (how, level) = match (piece.kind, known.hatch) {
                (PieceKind::Drop, Some(hatch)) => {
                    (format!("hatch {} - drop {}", show.length(hatch), show.length(height)), hatch - height)
                }
                _ => (
                    format!("floor {} + dip {}", show.length(known.floor), show.length(height)),
                    known.floor + height,
                ),
            };
            let mut lines =
                vec![line(format!("mean of {}", counting.len()), texts.join("; "), show.both(mean))];
            lines.extend(corrections);
            lines.push(line("level", how, show.both(level)));
            lines
        }
        PieceKind::Riser => {
            let height = assessment.entries.piece_length(piece.id, Key::RiserHeight, 0);
            let head = |height| working_mounting::head(assessment, height);
            height
                .map(|(height, _)| {
                    line(
                        "standing head by the riser",
                        working_mounting::measured(known, &show.both(height)),
                        show.reading(head(height)),
                    )
                })
                .into_iter()
                .collect()
        }
        PieceKind::Overflow => overflow_level(draft, assessment, piece, &show).into_iter().collect(),
        PieceKind::OtherInstrument => {
            let told = other::told(draft, known, &assessment.entries, piece);
            let says = |told: other::Told| {
                line(
                    "level",
                    format!("told by {}, ± {}", told.name, show.small(told.expanded)),
                    show.both(told.level),
                )
            };
            told.map(says).into_iter().collect()
        }
        PieceKind::EarlierVisit => earlier::work(draft, assessment).into_iter().collect(),
        PieceKind::Vented => {
            let reading = assessment.entries.reading(Spot::piece(piece.id, Key::VentedReading, 0));
            reading
                .map(|(reading, _)| {
                    let joined = vented::equalised(&draft.instrument);
                    let what =
                        if joined { "display with both sides joined" } else { "display at atmosphere" };
                    line(what, "zero error and offset together", show.reading(reading))
                })
                .into_iter()
                .collect()
        }
    }
}

fn overflow_level(
    draft: &Draft,
    assessment: &Assessment,
    piece: &Piece,
    show: &Show<'_>,
) -> Option<WorkLine> {
    let crest = assessment.known.overflow?;
    let head = overflow::head(draft, &assessment.entries, piece)?;
    let how = format!("crest {} + head over it {}", show.length(crest), show.small(head.middle));
    Some(line("level", how, show.both(crest + head.middle)))
}

/// From, to, by how much, how sure.
fn shift(draft: &Draft, assessment: &Assessment, result: &Reconciled) -> Vec<WorkLine> {
    let show = Show::new(&assessment.known, assessment.conditions.gradient);
    let mut lines = vec![line("display now", "as read", show.reading(result.from))];
    if let Some(level) = assessment.shift.level {
        lines.push(line("level by the evidence", "weighed by uncertainty", show.both(level)));
    }
    lines.push(at_zero(assessment, &show, result));
    lines.push(line("display to be", rule(draft, assessment), show.reading(result.to)));
    lines.push(line(
        "shift",
        format!("{} - {}", show.number(result.to), show.number(result.from)),
        show.change(result.shift.value),
    ));
    if let (Some(carried), Some(total)) = (&result.carried, &result.total) {
        lines.push(line(
            "new total offset",
            format!("{} carried {}", show.number(carried.value), show.change(result.shift.value)),
            show.reading(total.value),
        ));
    }
    let sure = &result.shift;
    lines.push(line(
        "uncertainty of the shift, 95 %",
        format!("k = {} x {}", print_decimal(sure.coverage, 2), show.uncertainty(sure.standard)),
        show.uncertainty(sure.expanded),
    ));
    lines
}

/// What the display shows with the surface at the tank's zero: what the trim takes away.
fn at_zero(assessment: &Assessment, show: &Show<'_>, result: &Reconciled) -> WorkLine {
    let what = "display at level zero, before the trim";
    match (assessment.shift.level, result.leans_on_allowance) {
        (Some(level), false) => {
            let pressed = result.per_metre * level.get::<meter>();
            let how =
                format!("{} - {} that the level presses", show.number(result.from), show.reading(pressed));
            line(what, how, show.reading(result.from - pressed))
        }
        _ => {
            let target = assessment.known.zero_reading(show.liquid());
            let at_zero = target - result.shift.value;
            let offset = result.carried.as_ref().map(|carried| carried.value).unwrap_or_default();
            let how = format!(
                "sensor's zero and standing head {}, offset {}",
                show.reading(at_zero - offset),
                show.change(offset)
            );
            line(what, how, show.reading(at_zero))
        }
    }
}

/// The rule in force, in words: the one that was used, and before there is a shift the one that was chosen.
pub(super) fn rule(draft: &Draft, assessment: &Assessment) -> String {
    let chosen = assessment.known.rule.or_else(|| draft.answers.choice(Spot::of(Key::TrimRule)));
    let chosen = chosen == Some(Choice::TrueAtReference) && assessment.known.unit.length_unit().is_some();
    let used = assessment.shift.result.is_some().then_some(assessment.shift.at_reference);
    if used.unwrap_or(chosen) {
        "true at the reference: the display shows the level that was referenced".into()
    } else {
        "true at zero: with the surface at the tank's zero the display shows its zero".into()
    }
}
