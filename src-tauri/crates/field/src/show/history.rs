//! An instrument over its visits: the chart, its table, and what follows.

use domain::head::Gradient;
use domain::sketch::{Drawing, OffsetPoint, Offsets};
use domain::visit::{
    Assessment, Conditions, Draft, Finished, Instrument, Known, Past, PastVisit, Show, day_of,
};
use uom::si::f64::Time;
use uom::si::time::day;

use super::shift;
use crate::view::{HistoryRow, HistoryView, WorkView};

/// Before a visit: what is known so far. `unread` own records could not be read. None where nothing is known.
pub(crate) fn before(row: &Instrument, unread: usize) -> Option<HistoryView> {
    let known = Known::read(row).ok()?;
    let common = Conditions::of_season(&known).ok()?.gradient;
    let mut view = view(&Past::of(&known, None, common), &known, common);
    if unread > 0
        && let Some(view) = &mut view
    {
        let how = "a newer version of the app wrote them, or they are damaged".into();
        view.lines.push(WorkView { what: "records left out".into(), how, value: unread.to_string() });
    }
    view
}

/// At the end of a visit: with today's visit as its last one.
pub(super) fn with_today(draft: &Draft, assessment: &Assessment) -> Option<HistoryView> {
    let past = assessment.past(draft);
    view(&past, &assessment.known, assessment.conditions.gradient).filter(|_| past.visits.len() > 1)
}

/// Of a signed visit, by its own bytes.
pub(super) fn signed(finished: &Finished, known: &Known, common: Gradient) -> Option<HistoryView> {
    let draft = Draft::again(finished);
    let past = Past::of_signed(&draft, known, &finished.results, common);
    view(&past, known, common).filter(|_| past.visits.len() > 1)
}

fn view(past: &Past, known: &Known, common: Gradient) -> Option<HistoryView> {
    let show = Show::new(known, common);
    (!past.visits.is_empty()).then(|| HistoryView {
        chart: chart(past, &show),
        rows: past.visits.iter().rev().map(|visit| row(visit, &show)).collect(),
        lines: past.lines(&show).iter().map(shift::work).collect(),
    })
}

fn row(visit: &PastVisit, show: &Show<'_>) -> HistoryRow {
    let expanded = |standard| show.uncertainty(standard * 2.0);
    HistoryRow {
        date: visit.date.clone(),
        offset: visit.offset.map_or_else(String::new, |(offset, _)| show.reading(offset)),
        uncertainty: visit
            .offset
            .map_or_else(String::new, |(_, standard)| format!("± {}", expanded(standard))),
        found: visit.error.map_or_else(String::new, |error| show.signed(error)),
        serial: visit.serial.clone(),
        current: visit.current,
    }
}

fn chart(past: &Past, show: &Show<'_>) -> Option<Drawing> {
    let held: Vec<&PastVisit> = past.visits.iter().filter(|visit| visit.offset.is_some()).collect();
    let (first, last) = (held.first()?, held.last()?);
    let at = |day_of: i64| {
        #[allow(clippy::cast_precision_loss)] // Days of the calendar.
        Time::new::<day>(day_of as f64)
    };
    let stepped = past.history.steps.last().and_then(|step| past.visit(step.before_visit));
    let begins = stepped.or_else(|| past.visit(past.history.since)).map_or(first.day, |visit| visit.day);
    let line = past.drift().map(|drift| [begins, last.day].map(|when| (when, drift.value_at(at(when)))));
    let breaks = past.history.steps.iter().map(|step| step.before_visit);
    let breaks = breaks.chain(past.history.fresh.map(|_| past.history.since));
    let points = held.iter().filter_map(|visit| {
        let (offset, standard) = visit.offset?;
        Some(OffsetPoint { day: visit.day, offset, expanded: standard * 2.0, current: visit.current })
    });
    let offsets = Offsets {
        points: points.collect(),
        line,
        breaks: breaks.filter_map(|place| Some(past.visit(place)?.day)).collect(),
        dates: [first.date.clone(), last.date.clone()],
        description: describe(past, &held, show),
    };
    offsets.draw(|offset| show.reading(offset))
}

fn describe(past: &Past, held: &[&PastVisit], show: &Show<'_>) -> String {
    let visits = if held.len() == 1 { "1 visit".to_owned() } else { format!("{} visits", held.len()) };
    let span = match (held.first(), held.last()) {
        (Some(first), Some(last)) if day_of(&first.date) != day_of(&last.date) => {
            format!(" from {} to {}", first.date, last.date)
        }
        (Some(first), _) => format!(" on {}", first.date),
        _ => String::new(),
    };
    let drift = past.drift().map_or_else(String::new, |drift| {
        format!(" Drift {} a year ± {}.", show.change(drift.per_year), show.uncertainty(drift.expanded))
    });
    format!("Standing offset at one density by date: {visits}{span}, each with its uncertainty.{drift}")
}
