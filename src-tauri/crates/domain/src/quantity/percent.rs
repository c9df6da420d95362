//! Percentages.

use uom::si::f64::Ratio;
use uom::si::ratio::percent;

use super::ask::ask;
use super::lead::Lead;
use super::{Candidate, Doubtful, EntryError, EntryProblem};

/// A percentage as read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PercentEntry {
    /// The ratio.
    pub value: Ratio,
    /// One unit of the last digit written.
    pub resolution: Ratio,
}

/// Why a percentage was not taken.
pub type PercentProblem = EntryProblem<Ratio>;

/// Reads a percentage: `0.05 %`. A number without the sign is asked.
///
/// # Errors
///
/// [`EntryProblem::Doubtful`] for a missing sign or a doubtful comma; [`EntryProblem::Refused`] for anything
/// else, and beyond 1000 %.
pub fn read_percent(text: &str) -> Result<PercentEntry, PercentProblem> {
    let lead = Lead::of(text, "0.05 %")?;
    let figure = match lead.figure() {
        Ok(figure) => figure,
        Err(texts) => return Err(ask(Doubtful::Comma, texts, read_percent, candidate)),
    };
    match lead.rest.to_lowercase().as_str() {
        "%" | "percent" | "per cent" => {}
        "" => return Err(ask(Doubtful::NoUnit, vec![lead.with(figure, "%")], read_percent, candidate)),
        _ => return Err(EntryError::UnknownUnit { unit: lead.rest, known: "%" }.into()),
    }
    let value = Ratio::new::<percent>(lead.signed(figure));
    if value.abs() > Ratio::new::<percent>(1000.0) {
        return Err(
            EntryError::Beyond { text: lead.typed, limits: "percentages reach to 1000 % here" }.into()
        );
    }
    Ok(PercentEntry { value, resolution: Ratio::new::<percent>(figure.step()) })
}

fn candidate(text: String, entry: PercentEntry) -> Candidate<Ratio> {
    Candidate { label: text.clone(), text, value: entry.value }
}
