//! The shift on the screen.

use domain::evidence::{Alone, Amount, BudgetRow, Pair, Reconciled, WayOut};
use domain::visit::{Advised, Assessment, Draft, PieceKind, Show, Step, Timing, equalised};
use uom::si::acceleration::meter_per_second_squared;
use uom::si::length::{meter, millimeter};
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;
use uom::si::temperature_coefficient::per_kelvin;
use uom::si::temperature_interval::kelvin;
use uom::si::time::second;
use uom::si::velocity::meter_per_second;

use super::messages;
use crate::message;
use crate::view::{BudgetLine, Change, ReferenceLine, Remedy, ShiftState, ShiftView, WorkView};

/// Returns the Shift screen.
pub(super) fn shift(draft: &Draft, assessment: &Assessment) -> ShiftView {
    let show = Show::new(&assessment.known, assessment.conditions.gradient);
    let shift = &assessment.shift;
    let result = shift.result.as_deref().filter(|_| shift.advised != Advised::Blocked);
    let text = |of: &dyn Fn(&Reconciled) -> String| result.map_or_else(String::new, of);
    let moving = shift.read_at.is_some_and(|at| assessment.target(draft, at).is_some());
    ShiftView {
        state: state(shift.advised),
        unit: assessment.known.unit.definition(),
        from: text(&|result| show.reading(result.from)),
        to: text(&|result| show.reading(result.to)),
        by: text(&|result| show.change(result.shift.value)),
        sure: text(&|result| format!("± {} (95\u{a0}%)", show.uncertainty(result.shift.expanded))),
        total: text(&|result| {
            result.total.as_ref().map_or_else(String::new, |total| show.reading(total.value))
        }),
        level: shift.level.map_or_else(String::new, |level| show.both(level)),
        headline: headline(assessment, &show, result, moving),
        rule: assessment.rule(draft),
        working: assessment.working(draft).iter().map(work).collect(),
        assumptions: shift.assumptions.iter().map(message::plain).collect(),
        warnings: messages::all(draft, &shift.remarks),
        ways_out: shift.ways_out.iter().map(|way| remedy(*way, equalised(&draft.instrument))).collect(),
        references: result.map_or_else(Vec::new, |result| references(result, &show)),
        budget: result
            .map_or_else(Vec::new, |result| result.budget.iter().map(|row| budget(row, &show)).collect()),
        moving,
        adjust_note: draft.instrument.adjust_note.clone(),
    }
}

fn state(advised: Advised) -> ShiftState {
    match advised {
        Advised::Trim => ShiftState::Trim,
        Advised::DoNotAdjust => ShiftState::DoNotAdjust,
        Advised::NotDetermined => ShiftState::NotDetermined,
        Advised::Blocked => ShiftState::Blocked,
    }
}

fn headline(assessment: &Assessment, show: &Show<'_>, result: Option<&Reconciled>, moving: bool) -> String {
    let Some(result) = result else {
        return match assessment.shift.advised {
            Advised::Blocked => "No shift is given. Something stands before it.".into(),
            _ => "The evidence does not determine a shift yet.".into(),
        };
    };
    let limit = assessment.shift.adjust_limit.map_or_else(String::new, |limit| show.small(limit));
    let high = result.error.value.get::<meter>() >= 0.0;
    let off = format!("{} too {}", show.small(result.error.value.abs()), if high { "high" } else { "low" });
    match assessment.shift.advised {
        Advised::DoNotAdjust => {
            format!("Do not adjust: the display reads {off}, inside the adjust limit of {limit}.")
        }
        // The number of then is not what to trim to now.
        _ if moving => {
            format!("The display reads {off}. The level moves: trim to the number that moves with it.")
        }
        _ => format!("The display reads {off}. Trim until it shows {}.", show.reading(result.to)),
    }
}

pub(super) fn work(line: &domain::visit::WorkLine) -> WorkView {
    WorkView { what: line.what.clone(), how: line.how.clone(), value: line.value.clone() }
}

/// A way out as a button: where it leads.
fn remedy(way: WayOut, joined: bool) -> Remedy {
    let go = |step| Change::Go { step };
    let (label, change) = match way {
        WayOut::ReadOffset => ("Read the offset on the unit and enter it (As found)", go(Step::AsFound)),
        WayOut::BringLevel => {
            ("Bring a level: dip it, drop a tape, or know it empty (Evidence)", go(Step::Evidence))
        }
        WayOut::MeasureRiser => {
            ("Measure the riser", Change::Add { kind: PieceKind::Riser, timing: Timing::Before })
        }
        WayOut::VentedCheck => (
            if joined {
                "Take an equalised zero, where the service allows it"
            } else {
                "Make a vented check, where the service allows it"
            },
            Change::Add { kind: PieceKind::Vented, timing: Timing::Before },
        ),
        WayOut::ClearOffset => (
            "Last: with the loop in manual and the old value written down so that it can be put back, clear the offset, and say so (As found)",
            go(Step::AsFound),
        ),
    };
    Remedy { label: label.into(), change }
}

fn references(result: &Reconciled, show: &Show<'_>) -> Vec<ReferenceLine> {
    let names = names(result);
    let line = |((place, alone), what): ((usize, &Alone), &String)| ReferenceLine {
        what: what.clone(),
        shift: alone.shift.as_ref().map_or_else(String::new, |shift| show.change(shift.value)),
        uncertainty: alone
            .shift
            .as_ref()
            .map_or_else(String::new, |shift| format!("± {}", show.uncertainty(shift.expanded))),
        says: if alone.shift.is_some() {
            pairs(result, place, &names)
        } else {
            "gives no number by itself".into()
        },
    };
    result.alone.iter().enumerate().zip(&names).map(line).collect()
}

/// What the lines are called; those of one name are counted.
fn names(result: &Reconciled) -> Vec<String> {
    let labels: Vec<&str> = result.alone.iter().map(|alone| alone.label.as_str()).collect();
    let many = |label: &str, of: &[&str]| of.iter().filter(|other| **other == label).count();
    let name = |(place, label): (usize, &&str)| {
        let so_far = labels.get(..=place).map_or(1, |so_far| many(label, so_far));
        if many(label, &labels) > 1 { format!("{label} {so_far}") } else { (*label).to_owned() }
    };
    labels.iter().enumerate().map(name).collect()
}

/// What a line and each other one make of each other, the worst first.
fn pairs(result: &Reconciled, place: usize, names: &[String]) -> String {
    let with = |pair: &Pair| match place {
        place if place == pair.first => names.get(pair.second),
        place if place == pair.second => names.get(pair.first),
        _ => None,
    };
    let mut pairs: Vec<(f64, &Pair, &String)> = result
        .pairs
        .iter()
        .filter_map(|pair| with(pair).and_then(|name| Some((pair.en?.abs(), pair, name))))
        .collect();
    pairs.sort_by(|(one, ..), (other, ..)| other.total_cmp(one));
    pairs.sort_by_key(|(_, pair, _)| !pair.disagrees());
    let sentence = |(en, pair, name): (f64, &Pair, &String)| {
        let words = match en {
            _ if pair.disagrees() => "they disagree",
            near if near <= 1.0 => "they agree within their uncertainty",
            _ => "further apart than their uncertainty, as one honest pair in twenty is",
        };
        format!("With {name}: {words} (En {en:.2}).")
    };
    pairs.into_iter().map(sentence).collect::<Vec<_>>().join(" ")
}

fn budget(row: &BudgetRow, show: &Show<'_>) -> BudgetLine {
    let contribution = match row.contribution {
        Amount::Pressure(pressure) => show.uncertainty(pressure),
        other => amount(other),
    };
    BudgetLine {
        what: row.label.clone(),
        value: amount(row.value),
        standard: amount(row.standard),
        distribution: format!("{}, ÷ {:.2}", row.distribution.name(), row.divisor),
        sensitivity: sensitivity(row),
        contribution,
        freedom: if row.freedom.is_finite() { format!("{:.0}", row.freedom) } else { "∞".into() },
        share: (row.share * 1000.0).round() / 10.0,
    }
}

/// Pascals of the shift for one unit of the input, to four digits.
fn sensitivity(row: &BudgetRow) -> String {
    let per = match row.value {
        Amount::Pressure(_) => "Pa/Pa",
        Amount::Length(_) => "Pa/m",
        Amount::Density(_) => "Pa/(kg/m3)",
        Amount::Acceleration(_) => "Pa/(m/s2)",
        Amount::Time(_) => "Pa/s",
        Amount::Velocity(_) => "Pa/(m/s)",
        Amount::Warmth(_) => "Pa/K",
        Amount::Expansion(_) => "Pa K",
        Amount::Ratio(_) => "Pa",
    };
    let whole = row.sensitivity.abs();
    let places = if whole >= 1000.0 {
        0
    } else if whole >= 100.0 {
        1
    } else if whole >= 10.0 {
        2
    } else {
        3
    };
    format!("{:+.places$} {per}", row.sensitivity)
}

fn amount(amount: Amount) -> String {
    match amount {
        Amount::Pressure(pressure) => format!("{:.1} Pa", pressure.get::<pascal>()),
        Amount::Length(length) if length.get::<meter>().abs() < 0.5 => {
            format!("{:.2} mm", length.get::<millimeter>())
        }
        Amount::Length(length) => format!("{:.4} m", length.get::<meter>()),
        Amount::Density(density) => format!("{:.4} kg/m3", density.get::<kilogram_per_cubic_meter>()),
        Amount::Acceleration(acceleration) => {
            format!("{:.5} m/s2", acceleration.get::<meter_per_second_squared>())
        }
        Amount::Time(time) => format!("{:.1} s", time.get::<second>()),
        Amount::Velocity(velocity) => format!("{:.2} mm/min", velocity.get::<meter_per_second>() * 60_000.0),
        Amount::Warmth(warmth) => format!("{:+.1} K", warmth.get::<kelvin>()),
        Amount::Expansion(expansion) => format!("{:.1}e-6 /K", expansion.get::<per_kelvin>() * 1e6),
        // What stretches a tape is a few millionths; a display unit's scale is near 1.
        Amount::Ratio(ratio) if ratio.abs() < 0.01 => format!("{:.2}e-6", ratio * 1e6),
        Amount::Ratio(ratio) => format!("{ratio:.5}"),
    }
}
