//! What is doubtful in the answers: each remark says what was seen and what to do about it.

use uom::si::f64::Length;
use uom::si::length::meter;
use uom::si::time::minute;

use super::builder::{DipRow, dip_rows};
use super::conditions::Conditions;
use super::entries::Entries;
use super::{
    Choice, Claim, Doubt, Draft, Key, Known, Moment, Piece, PieceKind, Remark, Show, Spot, Timing, earlier,
    fitted, levels, moment, moving, other, overflow, safety, series, tape, usual, vented,
};
use crate::evidence::Together;
use crate::evidence::alarm::DIPS;

/// What is to be said on the Find step.
pub(super) fn find(draft: &Draft) -> Vec<Remark> {
    let mut said = Vec::new();
    said.extend(safety::refusal(&draft.instrument));
    if draft.answers.choice(Spot::of(Key::TagMatches)) == Some(Choice::No) {
        let text = "The tag on the nameplate is another one: this is not the instrument.";
        said.push(Remark::refusal(
            "plate.other_tag",
            text,
            "Go back and find the instrument by the tag on its plate.",
        ));
    }
    let serial = draft.answers.text(Spot::of(Key::SerialRead)).trim();
    said.extend(fitted::remarks(draft));
    if fitted::serial_differs(draft) && fitted::fitted(draft).is_none() {
        said.push(Remark::doubt(
            Doubt::SerialDiffers,
            format!("The serial reads {serial}; the register has {}.", draft.instrument.serial),
            "If another unit is fitted, say so: its limits and its offset history are its own, so take no offset from the record.",
        ));
    }
    if draft.answers.choice(Spot::of(Key::RangeMatches)) == Some(Choice::No) {
        said.push(Remark::doubt(
            Doubt::RangeDiffers,
            "The range on the nameplate is not the register's.",
            "Limits are judged by the register. Note what the plate says and have the register mended.",
        ));
    }
    said
}

/// What is to be said on the As found step, the three levels aside.
pub(super) fn as_found(draft: &Draft, entries: &Entries) -> Vec<Remark> {
    let mut said = Vec::new();
    if draft.answers.choice(Spot::of(Key::LineBled)) == Some(Choice::BledNotPossible) {
        said.push(Remark::doubt(
            Doubt::NotBled,
            "The line was not bled: air in it reads low, a plug holds an old value.",
            "Watch whether the reading follows the level, and say why it could not be bled.",
        ));
    }
    if draft.answers.choice(Spot::of(Key::VentLooked)) == Some(Choice::VentBlocked) {
        said.push(Remark::doubt(
            Doubt::VentBlocked,
            "The vent path is blocked or wet: the weather stands in every reading.",
            "Clear and dry it and read again. Until then the uncertainty is widened by a change of weather of 10 hPa.",
        ));
    }
    if draft.answers.choice(Spot::of(Key::VentLooked)) == Some(Choice::VentNotSeen) {
        said.push(Remark::note("vent.not_seen", "The vent path was not seen: it is assumed clear and dry."));
    }
    said.extend(levels::current_remark(entries, Key::LoopCurrent));
    said
}

/// What is to be said on the Evidence step, the pieces themselves aside.
pub(super) fn evidence(draft: &Draft) -> Vec<Remark> {
    let none = !draft.pieces.iter().any(|piece| piece.timing == Timing::Before);
    let doubt = Remark::doubt(
        Doubt::NoEvidence,
        "No reference has been taken: nothing says what the level is.",
        "Add a piece of evidence, or say why there is none today; the unit can then only be left as it is.",
    );
    none.then_some(doubt).into_iter().collect()
}

/// What is to be said about one piece of evidence.
pub(super) fn piece(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    piece: &Piece,
) -> Vec<Remark> {
    match piece.kind {
        PieceKind::KnownEmpty => empty(draft, piece),
        PieceKind::Dip | PieceKind::Drop => dips(draft, known, conditions, entries, piece),
        PieceKind::Vented => vented::remarks(draft, piece),
        PieceKind::Overflow => overflow::remarks(known),
        PieceKind::OtherInstrument => other::remarks(draft, known, piece),
        PieceKind::EarlierVisit => earlier::remarks(draft, known, conditions, piece),
        PieceKind::Riser => vec![Remark::note(
            "riser.geometry",
            "A measured height does not show what the sensor itself is off by.",
        )],
    }
}

fn empty(draft: &Draft, piece: &Piece) -> Vec<Remark> {
    let by_report =
        draft.answers.choice(Spot::piece(piece.id, Key::EmptySeen, 0)) == Some(Choice::EmptyByReport);
    let doubt = Remark::doubt(
        Doubt::EmptyByReport,
        "The tank is called empty on somebody's word.",
        "Look at the outlet sill, or watch the reading stand still for some minutes. Until then its uncertainty is large.",
    );
    by_report.then_some(doubt).into_iter().collect()
}

fn dips(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    piece: &Piece,
) -> Vec<Remark> {
    let mut said = Vec::new();
    let rows = dip_rows(draft, entries, piece);
    if piece.kind == PieceKind::Drop && known.hatch.is_none() {
        let text = "The register has no hatch mark for this tank, so a drop tells no level.";
        said.push(Remark::refusal(
            "hatch.unknown",
            text,
            "Dip from the floor, or have the hatch height put into the register.",
        ));
        return said;
    }
    let taped =
        draft.pieces.iter().filter(|piece| matches!(piece.kind, PieceKind::Dip | PieceKind::Drop)).count();
    said.extend(spread(known, conditions, &rows, taped));
    said.extend(overdue(draft, known, piece));
    said.extend(tape::remarks(draft, known, entries, piece, &Show::new(known, conditions.gradient)));
    said.extend(rows.iter().any(|row| outside(known, piece, row)).then(|| {
        Remark::doubt(
            Doubt::OutsideTank,
            "A dip lies outside what the tank can hold.",
            "Check the unit, the mark it was taken from and the foot of the tape; set it aside or dip again.",
        )
    }));
    said.extend(far_apart(draft, entries, piece, &rows));
    said.extend(moves(draft, known, conditions, entries, piece));
    said
}

fn outside(known: &Known, piece: &Piece, row: &DipRow) -> bool {
    let level = match (piece.kind, known.hatch) {
        (PieceKind::Drop, Some(hatch)) => hatch - row.repeat.length,
        _ => row.repeat.length + known.floor,
    };
    row.repeat.set_aside.is_none() && levels::outside(known, level)
}

fn spread(known: &Known, conditions: &Conditions, rows: &[DipRow], pieces: usize) -> Option<Remark> {
    let repeats: Vec<_> = rows.iter().map(|row| row.repeat.clone()).collect();
    let show = Show::new(known, conditions.gradient);
    match Together::of(&repeats, usual::dips_agree()) {
        Together::TooFew { .. } if rows.is_empty() => None,
        Together::TooFew { wanted } => {
            let text = match wanted {
                1 => "One more dip, to make three: two show too little of their scatter.",
                2 => "Two more dips, to make three: one alone shows no scatter.",
                _ => "Three dips are wanted: those so far are set aside.",
            };
            Some(Remark::note("dips.too_few", text))
        }
        Together::Agree { range } if range.get::<meter>() < 5e-5 => {
            Some(Remark::note("dips.agree", "The last three are alike."))
        }
        Together::Agree { range } => {
            Some(Remark::note("dips.agree", format!("The last three agree within {}.", show.small(range))))
        }
        Together::Apart { range } => {
            let text = format!(
                "The last three lie {} apart; {} is the bound.",
                show.small(range),
                show.small(usual::dips_agree())
            );
            let remedy = "Dip again. Set one aside only with a reason.";
            Some(if too_far(range, rows, pieces) {
                Remark::doubt(Doubt::DipsDisagree, text, remedy)
            } else {
                // Past the bound honest dips come often, and one more brings them together.
                Remark::warning(Claim::Nothing, "dips.again", text, remedy)
            })
        }
    }
}

/// Tells whether three dips of one surface lie further apart than scatter and rounding take them.
fn too_far(range: Length, rows: &[DipRow], pieces: usize) -> bool {
    let scatter = usual::dips_scatter().get::<meter>();
    let step = rows.iter().map(|row| row.step.get::<meter>()).fold(0.0, f64::max);
    let step = step.min(usual::tape_division().get::<meter>());
    let standard = Length::new::<meter>(libm::sqrt(scatter * scatter + step * step / 12.0));
    #[allow(clippy::cast_precision_loss)] // A few pieces.
    let pieces = pieces.max(1) as f64;
    Together::by_chance(range, standard) * pieces < DIPS
}

fn overdue(draft: &Draft, known: &Known, piece: &Piece) -> Option<Remark> {
    let id = draft.answers.text(Spot::piece(piece.id, Key::TapeUsed, 0)).trim();
    let tape = known.tapes.iter().find(|tape| tape.id == id)?;
    moment::overdue(&tape.due, moment::day(draft)).then(|| {
        Remark::doubt(
            Doubt::TapeOverdue,
            format!("{id} was due for its check on {}.", tape.due),
            "Use another tape if there is one. Its uncertainty is doubled until it is checked.",
        )
    })
}

fn far_apart(draft: &Draft, entries: &Entries, piece: &Piece, rows: &[DipRow]) -> Option<Remark> {
    let own = [Key::ReadingBefore, Key::ReadingAfter].map(|key| Spot::piece(piece.id, key, 0));
    let standing: &[Key] = match piece.timing {
        Timing::Before => &[Key::DisplayCleared, Key::DisplayAfterBleed, Key::Display],
        Timing::After => &[Key::DisplayLeft],
    };
    let standing: Vec<Spot> = standing.iter().copied().map(Spot::of).collect();
    let read = |spots: &[Spot]| {
        let there = spots.iter().filter(|spot| entries.reading(**spot).is_some());
        there.filter_map(|spot| draft.answers.get(*spot)).map(|answer| answer.at).collect::<Vec<Moment>>()
    };
    let mut readings = read(&own);
    if readings.is_empty() {
        readings = read(&standing).into_iter().take(1).collect();
    }
    let last = rows.iter().map(|row| row.at).max()?;
    let nearest = readings.iter().map(|at| (last.0 - at.0).abs()).min()?;
    #[allow(clippy::cast_precision_loss)] // Milliseconds of a visit.
    let seconds = nearest as f64 / 1000.0;
    (seconds > usual::far_apart().value).then(|| {
        Remark::doubt(
            Doubt::FarApart,
            format!("{:.0} minutes lie between the display reading and the dip.", seconds / 60.0),
            "Read the display just before and just after the dip: a level moves in that time.",
        )
    })
}

fn moves(
    draft: &Draft,
    known: &Known,
    conditions: &Conditions,
    entries: &Entries,
    piece: &Piece,
) -> Option<Remark> {
    let series = series::taken(draft, entries, series::standing(draft, entries));
    let scatter = moving::scatter(series.as_ref(), conditions.gradient);
    let (bracket, _) = moving::bracket(draft, entries, conditions.gradient, scatter, piece)?;
    let (moved, minutes) = (bracket.change, bracket.apart.get::<minute>().max(0.0));
    (!bracket.still() && moved.abs() > known.level.tolerance / 3.0).then(|| {
        let show = Show::new(known, conditions.gradient);
        Remark::doubt(
            Doubt::LevelMoves,
            format!("The level moved by {} in {minutes:.1} min while it was measured.", show.signed(moved)),
            "Stop the flow if you may, or measure again quickly: read, dip three times, read.",
        )
    })
}
