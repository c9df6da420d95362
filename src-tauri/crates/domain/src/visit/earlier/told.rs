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

#[cfg(test)]
mod tests {
    use rstest::rstest;

    use super::*;
    use crate::visit::{Instrument, Measured, Moment};

    /// A tower whose display shows inches of a water of 1000 kg/m3 at 9.80665 m/s2: 9806.65 Pa a metre.
    fn tower(rule: &str) -> Instrument {
        let row = r#"{"tag":"LT-1","service":"tower","serial":" A1 ","unit":"inH2O","riser":"9 m","riser_from":"tape",
            "site":{"name":"Cold Ash","latitude":"51","altitude":"120 m","liquid_temperature":"12 degC","lengths":"m"},
            "liquid":{"name":"water"},"span":"6 m","lrv":"0","urv":"236",
            "limits":{"lrl":"-2 bar","url":"3 bar","min_span":"0.1 bar","max_working":"6 bar","accuracy":"0.05 %",
            "zero_allowance":"2 mbar"},"tolerance":"50 mm","trim_rule":"","head_plan":"head_in_offset"}"#;
        Instrument { trim_rule: rule.into(), ..serde_json::from_str(row).unwrap() }
    }

    fn visit(rule: &str, answers: &[(Key, &str)]) -> Draft {
        let mut draft = Draft::begin(tower(rule), Moment(0));
        for (key, text) in answers {
            draft.answers.put(Spot::of(*key), (*text).into(), Moment(0));
        }
        draft
    }

    /// The evidence called for -93 520 Pa; the trim added -4000 of them.
    const RESULTS: [(ResultKey, f64); 10] = [
        (ResultKey::NewTotal, -93_520.0),
        (ResultKey::Shift, -4000.0),
        (ResultKey::ShiftUncertainty, 200.0),
        (ResultKey::Coverage, 2.5),
        (ResultKey::Density, 999.1),
        (ResultKey::AirDensity, 1.2),
        (ResultKey::Gravity, 9.8),
        (ResultKey::Level, 5.0),
        (ResultKey::ErrorAsFound, 0.0123),
        (ResultKey::Tolerance, 0.05),
    ];

    fn lines(results: &[(ResultKey, f64)]) -> Vec<ResultLine> {
        let line = |(key, value): &(ResultKey, f64)| {
            let value = Measured { value: Decimal::rounded(*value).unwrap(), unit: String::new() };
            ResultLine { key: *key, value }
        };
        results.iter().map(line).collect()
    }

    fn line(draft: &Draft) -> Earlier {
        told(draft, &lines(&RESULTS), "2026-11-25".into())
    }

    #[test]
    fn what_was_worked_out_is_told_with_its_units() {
        let line = line(&visit("true_at_zero", &[]));
        let texts = [&line.error, &line.tolerance, &line.density, &line.gravity, &line.serial, &line.offset];
        assert_eq!(texts, ["0.0123 m", "0.05 m", "999.1 kg/m3", "9.8", "A1", "-93520 Pa"]);
        assert_eq!(
            told(&visit("", &[]), &[], String::new()),
            Earlier { serial: "A1".into(), ..Earlier::default() }
        );
    }

    #[rstest]
    // 200 Pa at a coverage of 2.5 are 80 Pa standard, so 160 Pa at 2.
    #[case::by_its_coverage(None, "160 Pa")]
    #[case::by_the_total(Some(70.0), "140 Pa")]
    // A thousandth of a pascal is none.
    #[case::a_thousandth(Some(0.0005), "")]
    #[case::hardly_any(Some(0.0006), "0.0012 Pa")]
    #[case::none(Some(0.0004), "")]
    fn an_uncertainty_is_told_at_twice_its_standard(#[case] total: Option<f64>, #[case] told_as: &str) {
        let mut results = RESULTS.to_vec();
        results.extend(total.map(|standard| (ResultKey::TotalUncertainty, standard)));
        let line = told(&visit("", &[]), &lines(&results), String::new());
        assert_eq!(line.uncertainty, told_as);
        assert_eq!(line.offset.is_empty(), told_as.is_empty(), "an offset needs it");
    }

    // 5 m show as 9806.65 x 5 = 49 033.25 Pa and press (999.1 - 1.2) x 9.8 x 5 = 48 897.1 Pa: a total that is true there
    // holds 136.15 Pa more than one that is true at zero.
    #[rstest]
    #[case::at_zero("true_at_zero", "true_at_reference", "-93520 Pa")]
    #[case::at_the_reference("true_at_reference", "", "-93656.15 Pa")]
    #[case::as_chosen_at_the_visit("", "true_at_reference", "-93656.15 Pa")]
    #[case::not_chosen("", "", "-93520 Pa")]
    fn what_is_told_is_true_at_zero(#[case] register: &str, #[case] chosen: &str, #[case] offset: &str) {
        assert_eq!(line(&visit(register, &[(Key::TrimRule, chosen)])).offset, offset);
    }

    #[rstest]
    #[case::took(&[(Key::Decision, "trim"), (Key::TrimResult, "trim_took")], "-93520 Pa")]
    #[case::put_back(&[(Key::Decision, "trim"), (Key::TrimResult, "put_back")], "-89520 Pa")]
    #[case::left(&[(Key::Decision, "leave")], "-89520 Pa")]
    #[case::read_today(&[(Key::OffsetKnown, "offset_read_today")], "-89520 Pa")]
    #[case::cleared(&[(Key::OffsetKnown, "offset_cleared_today"), (Key::Decision, "leave")], "")]
    #[case::cleared_and_trimmed(
        &[(Key::OffsetKnown, "offset_cleared_today"), (Key::Decision, "trim"), (Key::TrimResult, "trim_took")],
        "-93520 Pa"
    )]
    fn what_the_unit_was_left_with(#[case] answers: &[(Key, &str)], #[case] left: &str) {
        assert_eq!(line(&visit("", answers)).left, left);
    }

    #[rstest]
    #[case::none(&[], "")]
    #[case::dip(&[PieceKind::Riser, PieceKind::KnownEmpty, PieceKind::Drop, PieceKind::Dip], "dip")]
    #[case::drop(&[PieceKind::Vented, PieceKind::KnownEmpty, PieceKind::Drop], "drop")]
    #[case::empty(&[PieceKind::Vented, PieceKind::KnownEmpty], "known_empty")]
    #[case::vented(&[PieceKind::Riser, PieceKind::Vented], "vented")]
    #[case::riser(&[PieceKind::Overflow, PieceKind::Riser], "riser")]
    #[case::what_the_list_has_no_word_for(&[PieceKind::Overflow], "")]
    fn what_it_rested_on_most_and_its_tape(#[case] kinds: &[PieceKind], #[case] by: &str) {
        let mut draft = visit("", &[(Key::SerialRead, " B-2 ")]);
        let after = draft.add_piece(PieceKind::Dip, Timing::After);
        draft.answers.put(Spot::piece(after, Key::TapeUsed, 0), "T9".into(), Moment(0));
        for (place, kind) in kinds.iter().enumerate() {
            let id = draft.add_piece(*kind, Timing::Before);
            let tape = if place == 0 { " " } else { " T1 " };
            draft.answers.put(Spot::piece(id, Key::TapeUsed, 0), tape.into(), Moment(0));
        }
        let line = line(&draft);
        let tape = if kinds.len() > 1 { "T1" } else { "" };
        assert_eq!((line.by.as_str(), line.tape.as_str(), line.serial.as_str()), (by, tape, "B-2"));
    }
}
