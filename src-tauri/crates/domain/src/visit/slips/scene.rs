//! Which number of the visit's case is what.

use uom::si::f64::Length;
use uom::si::length::{foot, inch, meter};

use super::beside;
use super::find::Visit;
use crate::evidence::slips::{Mark, Register, Scene, Shown, Tape, TapeWay, taken_for};
use crate::evidence::{InputId, Repeats};
use crate::head::mounting::Mounting;
use crate::head::standard_atmosphere;
use crate::quantity::LengthSystem;
use crate::visit::builder::{Built, dip_rows};
use crate::visit::entries::Entries;
use crate::visit::known::Known;
use crate::visit::{Choice, Doubt, Draft, Key, Piece, PieceId, PieceKind, Spot, Timing, other, usual};

/// Returns the scene of a visit's case.
pub(super) fn scene(visit: &Visit<'_>, built: &Built, register: Register) -> Scene {
    let Visit { draft, known, conditions, entries } = visit;
    let liquid = conditions.gradient;
    let of = |key: Key| built.typed.iter().filter(move |(_, spot)| spot.key == key);
    let on_record = draft.answers.choice(Spot::of(Key::OffsetKnown)) == Some(Choice::OffsetFromRecord);
    let kind = |spot: &Spot| draft.pieces.iter().find(|piece| piece.id == spot.piece).map(|piece| piece.kind);
    let tape = |(input, spot): &(InputId, Spot)| {
        let way = if kind(spot) == Some(PieceKind::Drop) { TapeWay::Down } else { TapeWay::Up };
        Tape { input: *input, way }
    };
    Scene {
        readings: built.typed.iter().filter_map(|one| shown(draft, known, entries, *one)).collect(),
        vented: of(Key::VentedReading).map(|(input, _)| *input).collect(),
        offset: of(Key::OffsetValue).next().map(|(input, _)| (*input, on_record)),
        tapes: of(Key::Dip).map(tape).collect(),
        risers: of(Key::RiserHeight).map(|(input, _)| *input).collect(),
        others: of(Key::OtherLevel).map(|(input, _)| *input).collect(),
        register: Some(register),
        standing: conditions.installed.standing_head(),
        line: known.mounted.mounting.has_line().then_some(known.riser),
        under: beside::under(known),
        per_metre: liquid.pressure(Length::new::<meter>(1.0)),
        liquid: beside::liquid(conditions),
        leg: beside::leg(known, conditions),
        bled: draft.answers.choice(Spot::of(Key::LineBled)) == Some(Choice::BledClear),
        fill: built.fill(),
        gauge: !known.mounted.mounting.is_closed(),
        hangs: matches!(known.mounted.mounting, Mounting::Probe { .. }),
        vent: beside::vent(draft, known),
        flow: beside::flow(visit),
        barometer: standard_atmosphere(known.altitude).unwrap_or_default(),
        weather: beside::weather(),
        marks: marks(known),
        units: taken_for(known.unit, liquid),
        round: round(known.people),
        other_serial: crate::visit::checks::find(draft)
            .iter()
            .any(|remark| remark.reason_row == Doubt::SerialDiffers.row()),
    }
}

fn shown(draft: &Draft, known: &Known, entries: &Entries, (input, spot): (InputId, Spot)) -> Option<Shown> {
    let own = matches!(spot.key, Key::ReadingBefore | Key::ReadingAfter);
    let standing =
        matches!(spot.key, Key::Display | Key::DisplayAfterBleed | Key::DisplayCleared | Key::DisplayLeft);
    if !own && !standing {
        return None;
    }
    let without = |piece: &&Piece| {
        let read = |key| entries.reading(Spot::piece(piece.id, key, 0)).is_some();
        !read(Key::ReadingBefore) && !read(Key::ReadingAfter)
    };
    let mut pieces = draft.pieces.iter().filter(|piece| piece.timing == Timing::Before);
    let piece = if own {
        pieces.find(|piece| piece.id == spot.piece)
    } else {
        pieces.filter(without).find(|piece| level(draft, known, entries, piece).is_some())
    };
    let level = piece.and_then(|piece| level(draft, known, entries, piece));
    Some(Shown { input, level, empty: piece.is_some_and(|piece| piece.kind == PieceKind::KnownEmpty) })
}

/// The level that a piece tells.
pub(super) fn level(draft: &Draft, known: &Known, entries: &Entries, piece: &Piece) -> Option<Length> {
    let mean = || {
        let rows = dip_rows(draft, entries, piece);
        let repeats: Vec<_> = rows.into_iter().map(|row| row.repeat).collect();
        Repeats::of(&repeats, usual::one_dip()).ok().map(|taken| taken.mean)
    };
    match piece.kind {
        PieceKind::KnownEmpty => Some(known.sill),
        PieceKind::Dip => Some(known.floor + mean()?),
        PieceKind::Drop => Some(known.hatch? - mean()?),
        PieceKind::Overflow => known.overflow,
        PieceKind::OtherInstrument => other::told(draft, known, entries, piece).map(|told| told.level),
        _ => None,
    }
}

fn marks(known: &Known) -> Vec<(Mark, Length)> {
    let mut marks = vec![
        (Mark::Zero, Length::default()),
        (Mark::Floor, known.floor),
        (Mark::Sill, known.sill),
        (Mark::Full, known.span),
    ];
    marks.extend(known.hatch.map(|height| (Mark::Hatch, height)));
    marks.extend(known.overflow.map(|height| (Mark::Overflow, height)));
    let named = known.elevations.iter().enumerate();
    marks.extend(named.map(|(at, (_, height))| (Mark::Named(at), *height)));
    marks
}

fn round(people: LengthSystem) -> Vec<Length> {
    match people {
        LengthSystem::Feet => vec![Length::new::<foot>(1.0), Length::new::<inch>(1.0)],
        LengthSystem::Metres => vec![Length::new::<meter>(1.0), Length::new::<meter>(0.1)],
    }
}

/// The spot at which an input was typed.
pub(super) fn spot(built: &Built, input: InputId) -> Option<Spot> {
    built.typed.iter().find(|(one, _)| *one == input).map(|(_, spot)| *spot)
}

/// The piece a spot belongs to; none for what belongs to none.
pub(super) fn piece(spot: Option<Spot>) -> Option<PieceId> {
    spot.map(|spot| spot.piece).filter(|piece| piece.0 > 0)
}
