//! What a visit tells the next one: its line in the list of earlier visits.

use uom::si::acceleration::meter_per_second_squared;
use uom::si::f64::{Acceleration, Length, MassDensity, Pressure};
use uom::si::length::meter;
use uom::si::mass_density::kilogram_per_cubic_meter;
use uom::si::pressure::pascal;

use super::Earlier;
use crate::head::Gradient;
use crate::quantity::Decimal;
use crate::visit::{Choice, Draft, Key, Known, PieceKind, ResultKey, ResultLine, Spot, Timing};

/// Returns a visit's line: from its answers and results alone, so that a signed visit and one under way tell the
/// same. The day is the caller's to say: it is the local one.
#[must_use]
pub fn told(draft: &Draft, results: &[ResultLine], date: String) -> Earlier {
    let of = Of { draft, results };
    let serial = draft.answers.text(Spot::of(Key::SerialRead)).trim();
    let serial = if serial.is_empty() { draft.instrument.serial.trim() } else { serial };
    let mut line = Earlier {
        date,
        error: of.text(ResultKey::ErrorAsFound, "m"),
        tolerance: of.text(ResultKey::Tolerance, "m"),
        serial: serial.to_owned(),
        left: of.left().map_or_else(String::new, |left| written(left.get::<pascal>(), "Pa")),
        by: of.by().to_owned(),
        tape: of.tape(),
        density: of.text(ResultKey::Density, "kg/m3"),
        gravity: of.value(ResultKey::Gravity).map_or_else(String::new, |g| written(g, "")),
        ..Earlier::default()
    };
    if let Some((offset, expanded)) = of.standing() {
        line.offset = written(offset.get::<pascal>(), "Pa");
        line.uncertainty = written(expanded.get::<pascal>(), "Pa");
    }
    line
}

fn written(value: f64, unit: &str) -> String {
    Decimal::rounded(value).map_or_else(String::new, |value| format!("{value} {unit}").trim().to_owned())
}

struct Of<'a> {
    draft: &'a Draft,
    results: &'a [ResultLine],
}

impl Of<'_> {
    fn value(&self, key: ResultKey) -> Option<f64> {
        self.results.iter().find(|line| line.key == key).map(|line| line.value.value.to_f64())
    }

    fn text(&self, key: ResultKey, unit: &str) -> String {
        self.value(key).map_or_else(String::new, |value| written(value, unit))
    }

    fn pressure(&self, key: ResultKey) -> Option<Pressure> {
        self.value(key).map(Pressure::new::<pascal>)
    }

    /// The total offset that makes level zero show true, with its expanded uncertainty.
    fn standing(&self) -> Option<(Pressure, Pressure)> {
        let total = self.pressure(ResultKey::NewTotal)?;
        let standard = self.pressure(ResultKey::TotalUncertainty).or_else(|| {
            let expanded = self.pressure(ResultKey::ShiftUncertainty)?;
            Some(expanded / self.value(ResultKey::Coverage)?)
        });
        let expanded = standard? * 2.0;
        // Below the milli-unit nothing is told apart, and an uncertainty of nothing would be refused when read.
        (expanded.get::<pascal>() > 1e-3).then_some((total - self.by_reference(), expanded))
    }

    /// What a total that is true at the referenced level holds beyond the one that is true at zero.
    fn by_reference(&self) -> Pressure {
        let at_reference = || {
            let known = Known::read(&self.draft.instrument).ok()?;
            let chosen = known.rule.or_else(|| self.draft.answers.choice(Spot::of(Key::TrimRule)));
            let unit = known.unit.length_unit().filter(|_| chosen == Some(Choice::TrueAtReference))?;
            let level = Length::new::<meter>(self.value(ResultKey::Level)?);
            let gradient = self.gradient()?;
            let shown = known.unit.one(gradient) * (level.value / unit.length(1.0).value);
            Some(shown - gradient.pressure(level))
        };
        at_reference().unwrap_or_default()
    }

    fn gradient(&self) -> Option<Gradient> {
        let density = |key| self.value(key).map(MassDensity::new::<kilogram_per_cubic_meter>);
        let gravity = Acceleration::new::<meter_per_second_squared>(self.value(ResultKey::Gravity)?);
        Gradient::new(density(ResultKey::Density)?, density(ResultKey::AirDensity)?, gravity).ok()
    }

    /// What the unit was left with: the new total where it was trimmed, else what it carried.
    fn left(&self) -> Option<Pressure> {
        let choice = |key| self.draft.answers.choice(Spot::of(key));
        let total = self.pressure(ResultKey::NewTotal)?;
        match (choice(Key::Decision), choice(Key::TrimResult)) {
            (Some(Choice::Trim), Some(Choice::TrimTook)) => Some(total),
            // The cleared unit's total is the shift itself; what it was put back to is the old offset, as typed.
            _ if choice(Key::OffsetKnown) == Some(Choice::OffsetClearedToday) => None,
            _ => self.pressure(ResultKey::Shift).map(|shift| total - shift),
        }
    }

    /// The first kind of evidence before the trim, which the list calls what the visit rested on most.
    fn by(&self) -> &'static str {
        let order = [
            (PieceKind::Dip, "dip"),
            (PieceKind::Drop, "drop"),
            (PieceKind::KnownEmpty, "known_empty"),
            (PieceKind::Vented, "vented"),
            (PieceKind::Riser, "riser"),
        ];
        let has = |kind| self.before().any(|piece| piece.kind == kind);
        order.into_iter().find(|(kind, _)| has(*kind)).map_or("", |(_, word)| word)
    }

    fn tape(&self) -> String {
        let mut tapes = self
            .before()
            .map(|piece| self.draft.answers.text(Spot::piece(piece.id, Key::TapeUsed, 0)).trim().to_owned());
        tapes.find(|tape| !tape.is_empty()).unwrap_or_default()
    }

    fn before(&self) -> impl Iterator<Item = &crate::visit::Piece> {
        self.draft.pieces.iter().filter(|piece| piece.timing == Timing::Before)
    }
}
