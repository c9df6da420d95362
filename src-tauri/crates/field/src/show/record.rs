//! A signed record to read over: from the signed bytes alone, so that it reads the same in ten years.

use bodies::Confirmed;
use domain::head::Gradient;
use domain::visit::{DECISION_RULE, Finished, Known, Measured, ResultKey, Said, Show};
use uom::si::f64::{Length, Pressure};
use uom::si::length::meter;
use uom::si::pressure::pascal;

use super::{review, shift, verdict};
use crate::records::Frame;
use crate::view::{Grade, Message, RecordView, ReviewLine, VerdictView};

/// Returns a signed record as the screen is given it.
pub(crate) fn record(frame: Frame, finished: &Finished) -> RecordView {
    let instrument = &finished.instrument;
    let numbers = Numbers::of(finished);
    let answers = review::answered(&finished.answers, |value| numbers.measured(value));
    let (pieces, working) = (&finished.pieces, &finished.working);
    let source = review::Source { instrument, pieces, answers, working };
    RecordView {
        id: frame.id,
        tag: instrument.tag.clone(),
        service: instrument.service.clone(),
        site: instrument.site.name.clone(),
        when: frame.when,
        technician: frame.technician,
        confirmed: confirmed(frame.confirmed).to_owned(),
        shift: numbers.shift(),
        verdict: numbers.verdict(),
        parts: review::parts(&source),
        history: numbers.history(),
        working: finished.working.iter().map(shift::work).collect(),
        assumptions: finished.assumptions.iter().map(|said| message(said, Grade::Note)).collect(),
        warnings: finished.warnings.iter().map(|said| message(said, Grade::Warning)).collect(),
        proof: frame.proof,
        photos: frame.photos,
        whereabouts: frame.whereabouts,
        decision: frame.decision,
    }
}

fn confirmed(how: Confirmed) -> &'static str {
    match how {
        Confirmed::Unlocked => "By the phone's own lock",
        Confirmed::Pin => "By PIN",
        Confirmed::None => "No",
    }
}

fn message(said: &Said, grade: Grade) -> Message {
    let (code, text) = (said.code.clone(), said.text.clone());
    Message { code, grade, text, remedy: String::new(), reason: None }
}

/// The signed results, printed in the instrument's units where the register row still reads, else in SI.
struct Numbers<'a> {
    finished: &'a Finished,
    known: Option<Known>,
}

impl<'a> Numbers<'a> {
    fn of(finished: &'a Finished) -> Numbers<'a> {
        Numbers { finished, known: Known::read(&finished.instrument).ok() }
    }

    fn value(&self, key: ResultKey) -> Option<f64> {
        let line = self.finished.results.iter().find(|line| line.key == key)?;
        Some(line.value.value.to_f64())
    }

    /// The gradient that the signed densities and gravity make.
    fn gradient(&self) -> Option<Gradient> {
        use uom::si::acceleration::meter_per_second_squared;
        use uom::si::f64::{Acceleration, MassDensity};
        use uom::si::mass_density::kilogram_per_cubic_meter;
        let density = MassDensity::new::<kilogram_per_cubic_meter>(self.value(ResultKey::Density)?);
        let over = self.value(ResultKey::OverDensity).or(self.value(ResultKey::AirDensity))?;
        let over = MassDensity::new::<kilogram_per_cubic_meter>(over);
        let gravity = Acceleration::new::<meter_per_second_squared>(self.value(ResultKey::Gravity)?);
        Gradient::new(density, over, gravity).ok()
    }

    fn history(&self) -> Option<crate::view::HistoryView> {
        super::history::signed(self.finished, self.known.as_ref()?, self.gradient()?)
    }

    fn show(&self) -> Option<Show<'_>> {
        Some(Show::new(self.known.as_ref()?, self.gradient()?))
    }

    /// Prints what an answer was read as, in the instrument's units where they are known.
    fn measured(&self, value: &Measured) -> String {
        let number = value.value.to_f64();
        match (self.show(), value.unit.as_str()) {
            (Some(show), "Pa") => show.reading(Pressure::new::<pascal>(number)),
            (Some(show), "m") => show.both(Length::new::<meter>(number)),
            _ => format!("{} {}", value.value, value.unit),
        }
    }

    fn shift(&self) -> Vec<ReviewLine> {
        type Print = fn(&Show<'_>, Pressure) -> String;
        let reading: Print = |show, pressure| show.reading(pressure);
        let change: Print = |show, pressure| show.change(pressure);
        let uncertainty: Print = |show, pressure| format!("± {} (95\u{a0}%)", show.uncertainty(pressure));
        let lines = [
            ("From", ResultKey::From, reading),
            ("To", ResultKey::To, reading),
            ("Shift", ResultKey::Shift, change),
            ("How sure", ResultKey::ShiftUncertainty, uncertainty),
            ("New total offset", ResultKey::NewTotal, reading),
        ];
        let line = |(what, key, print): (&str, ResultKey, Print)| {
            let pascals = self.value(key)?;
            let value = match self.show() {
                Some(show) => print(&show, Pressure::new::<pascal>(pascals)),
                None => format!("{pascals:.1} Pa"),
            };
            Some(ReviewLine { what: what.into(), value, echo: format!("{pascals:.1} Pa") })
        };
        lines.into_iter().filter_map(line).collect()
    }

    fn rule(&self) -> String {
        let mut lines = self.finished.working.iter();
        lines.find(|line| line.what == DECISION_RULE).map_or_else(String::new, |line| line.how.clone())
    }

    fn verdict(&self) -> VerdictView {
        let length = |key, signed: bool| {
            let metres = self.value(key)?;
            Some(match self.show() {
                Some(show) if signed => show.signed(Length::new::<meter>(metres)),
                Some(show) => show.small(Length::new::<meter>(metres)),
                None => format!("{metres:.4} m"),
            })
        };
        let error = |key, percent| {
            let length = length(key, true);
            let percent =
                self.value(percent).map_or_else(String::new, |percent| format!(" ({percent:+.2} % of span)"));
            length.map_or_else(String::new, |length| format!("{length}{percent}"))
        };
        let plus_minus = |key, tail: &str| {
            length(key, false).map_or_else(String::new, |length| format!("± {length}{tail}"))
        };
        VerdictView {
            code: self.finished.verdict.code.clone(),
            short: verdict::short(&self.finished.verdict).into(),
            detail: verdict::detail(&self.finished.verdict),
            text: self.finished.verdict.text.clone(),
            as_found: error(ResultKey::ErrorAsFound, ResultKey::PercentAsFound),
            as_left: error(ResultKey::ErrorAsLeft, ResultKey::PercentAsLeft),
            uncertainty: plus_minus(ResultKey::ErrorUncertainty, " (95\u{a0}%)"),
            tolerance: plus_minus(ResultKey::Tolerance, ""),
            rule: self.rule(),
        }
    }
}
