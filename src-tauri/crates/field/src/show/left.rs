//! What is left over the span, worded.

use domain::visit::{Known, LeftOver, PointLeft, Show};

use crate::message;
use crate::view::{CorrectedView, LeftPoint, LeftView};

/// Returns what is left as the screens are given it.
pub(super) fn left(of: &LeftOver, known: &Known, show: &Show<'_>) -> LeftView {
    // A column's head breaks before the temperature, not within it.
    let head = |at| show.temperature(at).replace(' ', "\u{a0}");
    let year = of.year.map(|(cold, warm)| (head(cold), head(warm)));
    let (coldest, warmest) = year.unwrap_or_default();
    LeftView {
        headline: headline(of, known, show),
        today: head(of.trimmed.day.temperature),
        coldest,
        warmest,
        points: of.points.iter().map(|one| point(one, show)).collect(),
        corrected: corrected(of, show),
        messages: of.remarks(known, show).iter().map(message::plain).collect(),
    }
}

fn headline(of: &LeftOver, known: &Known, show: &Show<'_>) -> String {
    let Some(worst) = &of.worst else { return String::new() };
    let over = if of.year.is_some() { "over the year" } else { "today" };
    let error = show.small(worst.error.abs());
    let side = if worst.error.value >= 0.0 { "too much" } else { "too little" };
    let tolerance = show.small(known.level.tolerance);
    format!("At worst {over} it shows {error} {side}; the tolerance is ± {tolerance}.")
}

fn point(of: &PointLeft, show: &Show<'_>) -> LeftPoint {
    let signed = |error: Option<_>| error.map_or_else(String::new, |error| show.signed(error));
    LeftPoint {
        part: part(of.part),
        level: show.length(of.level),
        today: show.signed(of.today),
        uncertainty: of.expanded.map_or_else(String::new, |expanded| format!("± {}", show.small(expanded))),
        coldest: signed(of.coldest),
        warmest: signed(of.warmest),
    }
}

/// A part of the span: `25 %`.
pub(super) fn part(part: f64) -> String {
    format!("{:.0}\u{a0}%", part * 100.0)
}

fn corrected(of: &LeftOver, show: &Show<'_>) -> Option<CorrectedView> {
    let corrected = of.corrected.as_ref()?;
    Some(CorrectedView {
        lrv: show.change(corrected.range.lrv()),
        urv: show.change(corrected.range.urv()),
        worst: show.small(corrected.worst.error.abs()),
        says: format!(
            "With these the worst would be {}. They move the current and the control room, not the display. Setting a range is \
             an action of its own, with a record of its own; it trims nothing.",
            show.small(corrected.worst.error.abs())
        ),
    })
}
