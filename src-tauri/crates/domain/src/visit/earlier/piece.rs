//! An earlier visit as a piece of evidence: what is said of it, and its line of working.

use super::{Past, usable};
use crate::visit::conditions::Conditions;
use crate::visit::{Assessment, Choice, Draft, Key, Known, Piece, Remark, Show, Spot, WorkLine};

/// What is to be said about it.
pub(in crate::visit) fn remarks(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    piece: &Piece,
) -> Vec<Remark> {
    let past = Past::of(known, None, conditions.gradient);
    let remedy = "Take this piece away and bring a level instead.";
    let (visit, standing) = match usable(draft, known, &past) {
        Ok(usable) => usable,
        Err(why) => return vec![Remark::refusal("earlier.void", why, remedy)],
    };
    let same = draft.answers.choice(Spot::piece(piece.id, Key::EarlierSame, 0));
    if same == Some(Choice::No) {
        let text = "A unit that was moved, mounted anew or changed since then has another zero: that visit says nothing of today.";
        return vec![Remark::refusal("earlier.not_same", text, remedy)];
    }
    let show = Show::new(known, conditions.gradient);
    let text = format!(
        "The visit of {} called for a total offset of {} ± {} (95\u{a0}%). What the zero may have moved since is in the uncertainty.",
        visit.date,
        show.reading(standing.offset),
        show.uncertainty(standing.standard * 2.0)
    );
    let mut said = vec![Remark::note("earlier.said", text)];
    if draft.answers.choice(Spot::of(Key::OffsetKnown)) == Some(Choice::OffsetFromRecord) {
        let text = "With the carried offset taken from a record as well, this says no more than that nothing has changed since.";
        said.push(Remark::note("earlier.and_record", text));
    }
    said
}

impl Assessment {
    /// Tells whether an earlier visit may stand as evidence today.
    ///
    /// # Errors
    ///
    /// Why none may, in a sentence.
    pub fn earlier_counts(&self, draft: &Draft) -> Result<(), &'static str> {
        let past = Past::of(&self.known, None, self.conditions.gradient);
        usable(draft, &self.known, &past).map(|_| ())
    }
}

/// Its line of working.
pub(in crate::visit) fn work(draft: &Draft, assessment: &Assessment) -> Option<WorkLine> {
    let (known, conditions) = (&assessment.known, &assessment.conditions);
    let past = Past::of(known, None, conditions.gradient);
    let (visit, standing) = usable(draft, known, &past).ok()?;
    let show = Show::new(known, conditions.gradient);
    let riser = show.length(known.riser);
    let moved = conditions.gradient.pressure(known.riser) - standing.gradient.pressure(known.riser);
    Some(WorkLine {
        what: format!("zero error and standing head by the visit of {}", visit.date),
        how: format!(
            "-({}) at that day's density, {} by today's over the riser of {riser}",
            show.reading(standing.offset),
            show.change(moved)
        ),
        value: show.reading(moved - standing.offset),
    })
}
