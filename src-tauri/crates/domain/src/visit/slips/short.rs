//! A riser that is too short when its tank is called empty: it was not full.

use super::find::Visit;
use crate::evidence::alarm::EMPTY;
use crate::evidence::slips::{Measure, apart};
use crate::visit::builder::build;
use crate::visit::{Doubt, Draft, Piece, PieceKind, Remark, Show, Timing};
use uom::si::f64::Length;
use uom::si::length::meter;

/// Doubts an empty tank whose riser comes out shorter than the register's by more than the tolerance, and by more than both
/// may be off. Only a riser that the tank is drawn through can run partly dry with it.
pub(in crate::visit) fn short(visit: &Visit<'_>, piece: &Piece) -> Option<Remark> {
    let Visit { draft, known, conditions, entries } = visit;
    if piece.kind != PieceKind::KnownEmpty || piece.timing != Timing::Before || !known.may_flow() {
        return None;
    }
    let alone = Draft { pieces: vec![piece.clone()], ..(*draft).clone() };
    let mut built = build(&alone, known, conditions, entries, Timing::Before)?.ok()?;
    let register = built.by_register(known);
    let riser = register.heights.iter().find(|one| one.measure == Measure::Riser)?;
    let (longer, chance) = apart(&built.case, riser.input)?;
    let tolerance = known.level.tolerance.get::<meter>();
    let empties = draft.pieces.iter().filter(|one| one.kind == PieceKind::KnownEmpty).count().max(1);
    #[allow(clippy::cast_precision_loss)] // A few pieces.
    let level = EMPTY / empties as f64;
    // Half of those that are this far apart are short.
    (longer < -tolerance && 0.5 * chance < level).then(|| {
        let show = Show::new(known, conditions.gradient);
        let by = Length::new::<meter>(-longer);
        let text = format!(
            "Empty, the tank leaves a riser of {} by the display and the offset; the register has {}. It is short of {}: more \
             than the tolerance.",
            show.length(riser.height - by),
            show.length(riser.height),
            show.small(by)
        );
        Remark::doubt(
            Doubt::RiserShort,
            text,
            "A riser that is not full is no reference. Let some water in until the sill is wet, and read again; else bring a level.",
        )
    })
}
