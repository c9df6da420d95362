//! Dips and drops: repeats with one tape from one mark.

use uom::si::f64::Length;

use super::start::Builder;
use crate::evidence::{EvidenceError, Input, Repeat, Repeats, Spread};
use crate::visit::asks::MOST_DIPS;
use crate::visit::entries::Entries;
use crate::visit::{Draft, Key, Moment, Piece, PieceKind, Spot, usual};

/// One repeat with what its writing resolves and when it was entered.
pub(in crate::visit) struct DipRow {
    pub(in crate::visit) repeat: Repeat,
    pub(in crate::visit) step: Length,
    pub(in crate::visit) at: Moment,
}

/// Returns the repeats of a dip or drop as entered.
pub(in crate::visit) fn dip_rows(draft: &Draft, entries: &Entries, piece: &Piece) -> Vec<DipRow> {
    let row = |row: u32| {
        let spot = Spot::piece(piece.id, Key::Dip, row);
        let (length, step) = entries.length(spot)?;
        let at = draft.answers.get(spot)?.at;
        let aside = draft.answers.get(Spot::piece(piece.id, Key::DipSetAside, row));
        let repeat = Repeat { length, set_aside: aside.map(|answer| answer.text.clone()) };
        Some(DipRow { repeat, step, at })
    };
    (0..MOST_DIPS).filter_map(row).collect()
}

impl Builder<'_> {
    pub(super) fn dips(&mut self, piece: &Piece) -> Result<(), EvidenceError> {
        let rows = dip_rows(self.draft, self.entries, piece);
        if !rows.iter().any(|row| row.repeat.set_aside.is_none()) {
            return Ok(());
        }
        let repeats: Vec<Repeat> = rows.iter().map(|row| row.repeat.clone()).collect();
        let taken = Repeats::of(&repeats, usual::one_dip())?;
        let counting = || rows.iter().filter(|row| row.repeat.set_aside.is_none());
        let step = counting().map(|row| row.step).fold(usual::tape_division(), Length::min);
        let name = if piece.kind == PieceKind::Dip { "dip" } else { "drop" };
        let by = self.reference(piece, name);
        let mean = Input::length(format!("{name}, mean of {}", taken.count), taken.mean, taken.spread);
        let mean = self.case.input(mean);
        self.typed.push((mean, Spot::piece(piece.id, Key::Dip, 0)));
        let read = Input::length("tape as read", Length::default(), Spread::Rectangular(step * 0.5));
        let read = self.case.input(read);
        let tape = self.tape(piece);
        let hung = self.hung(piece, mean, taken.mean);
        let middle =
            counting().map(|row| milliseconds(row.at)).sum::<f64>() / milliseconds_count(counting().count());
        let level = self.level_for(piece, Some(middle), true);
        let line = self.straightness(piece);
        if piece.kind == PieceKind::Dip {
            let floor = self.mark("tank floor above zero", self.known.floor);
            self.case.level_by_tape(by, level, false, &hung, [&[floor, read, tape, line], &[]]);
        } else if let Some(hatch) = self.known.hatch {
            let hatch = self.mark("hatch mark above zero", hatch);
            self.case.level_by_tape(by, level, true, &hung, [&[hatch, line], &[read, tape]]);
        }
        Ok(())
    }
}

#[allow(clippy::cast_precision_loss)] // Milliseconds since 1970 stay far below 2^53.
fn milliseconds(moment: Moment) -> f64 {
    moment.0 as f64
}

#[allow(clippy::cast_precision_loss)] // At most twenty dips.
fn milliseconds_count(count: usize) -> f64 {
    count.max(1) as f64
}
