//! Whether anything that takes a climb may be proposed.
//!
//! Ground only by default. Wind, ice and lightning are asked where height is asked anyway, on the safety list; after a long
//! break that line stands open again, and the weather with it.

use super::{Choice, Draft, Key, PieceKind, Spot, safety};

/// Whether anything that takes a climb may be proposed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Climb {
    /// Neither does the register allow it, nor did anybody dip today.
    NotHere,
    /// It is not said how many are here.
    NotSaid,
    /// A person alone never climbs, whatever the register says.
    Alone,
    /// What the safety list asks about height, and the weather there, is not answered.
    Unanswered,
    /// The safety list says that height does not apply: nobody means to climb.
    RuledOut,
    /// It may, under the site's rules.
    Allowed,
}

/// Returns whether anything that takes a climb may be proposed.
#[must_use]
pub fn climb(draft: &Draft) -> Climb {
    let dipped = draft.pieces.iter().any(|piece| matches!(piece.kind, PieceKind::Dip | PieceKind::Drop));
    if !draft.instrument.crew.climb && !dipped {
        return Climb::NotHere;
    }
    match draft.answers.choice(Spot::of(Key::Crew)) {
        None => Climb::NotSaid,
        Some(Choice::TwoOrMore) => by_the_list(draft),
        Some(_) => Climb::Alone,
    }
}

fn by_the_list(draft: &Draft) -> Climb {
    let about = (0..).zip(&draft.instrument.safety).filter(|(_, item)| safety::about_height(item));
    let answers: Vec<Option<Choice>> =
        about.map(|(row, _)| draft.answers.choice(Spot::row(Key::SafetyItem, row))).collect();
    if answers.contains(&Some(Choice::DoesNotApply)) {
        Climb::RuledOut
    } else if answers.iter().all(|answer| *answer == Some(Choice::Done)) {
        Climb::Allowed
    } else {
        Climb::Unanswered
    }
}
