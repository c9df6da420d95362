//! A visit to read over, part by part: the same lines before signing and for ever after.

use domain::visit::{
    Answered, Answers, Assessment, Choice, Draft, Instrument, Key, Measured, Piece, PieceId, Spot, Step,
    WorkLine, earlier_row, equalised, step_name,
};

use super::{five_point, names};
use crate::view::{ReviewLine, ReviewPart};

/// What is read over.
pub(super) struct Source<'a> {
    pub(super) instrument: &'a Instrument,
    pub(super) pieces: &'a [Piece],
    pub(super) answers: Vec<Line<'a>>,
    pub(super) working: &'a [WorkLine],
}

/// One answer to read over.
pub(super) struct Line<'a> {
    pub(super) spot: Spot,
    pub(super) text: &'a str,
    pub(super) echo: String,
}

/// Returns a draft to read over.
pub(super) fn draft(draft: &Draft, assessment: &Assessment) -> Vec<ReviewPart> {
    let echo = |spot| assessment.entries.at(spot).map_or_else(String::new, |entry| entry.echo.clone());
    let answers = lines(&draft.answers, echo);
    let working = assessment.working(draft);
    parts(&Source { instrument: &draft.instrument, pieces: &draft.pieces, answers, working: &working })
}

fn lines<'a>(answers: &'a Answers, echo: impl Fn(Spot) -> String) -> Vec<Line<'a>> {
    let answered = answers.iter().filter(|(_, answer)| !answer.text.trim().is_empty());
    answered.map(|(spot, answer)| Line { spot, text: &answer.text, echo: echo(spot) }).collect()
}

/// Returns the answers of a signed visit, each with what it was read as, printed by `print`.
pub(super) fn answered(answers: &[Answered], print: impl Fn(&Measured) -> String) -> Vec<Line<'_>> {
    let echo = |value: &Option<Measured>| value.as_ref().map_or_else(String::new, &print);
    answers
        .iter()
        .map(|answer| Line { spot: answer.spot, text: &answer.text, echo: echo(&answer.value) })
        .collect()
}

/// Returns the parts: the steps in their order, evidence piece by piece.
pub(super) fn parts(source: &Source<'_>) -> Vec<ReviewPart> {
    let mut parts = Vec::new();
    for step in Step::ALL {
        let own = source
            .answers
            .iter()
            .filter(|line| line.spot.piece == PieceId(0) && step_of(line.spot.key) == step);
        let lines: Vec<ReviewLine> = own.map(|line| review_line(source, line)).collect();
        if !lines.is_empty() {
            parts.push(ReviewPart { title: step_name(step).into(), lines });
        }
        parts.extend(five_point::review(source.working, step));
        if step == Step::Evidence {
            parts.extend(source.pieces.iter().map(|piece| piece_part(source, piece)));
        }
    }
    parts
}

fn piece_part(source: &Source<'_>, piece: &Piece) -> ReviewPart {
    let own = source.answers.iter().filter(|line| line.spot.piece == piece.id);
    let when = if piece.timing == domain::visit::Timing::After { " (after the trim)" } else { "" };
    ReviewPart {
        title: format!("Evidence: {}{when}", names::piece(source.instrument, piece.kind)),
        lines: own.map(|line| review_line(source, line)).collect(),
    }
}

fn review_line(source: &Source<'_>, line: &Line<'_>) -> ReviewLine {
    let value = Choice::from_word(line.text)
        .map_or_else(|| with_unit(&source.instrument.unit, line), |choice| names::choice(choice).to_owned());
    ReviewLine { what: what(source.instrument, line.spot), value, echo: line.echo.clone() }
}

/// Returns an answer with the unit that stood beside its field, where the person typed a bare number.
fn with_unit(display: &str, line: &Line<'_>) -> String {
    let unit = match line.spot.key {
        Key::InhibitMinutes | Key::ClockOffset => "min",
        Key::Damping => "s",
        Key::LoopCurrent | Key::CurrentLeft | Key::CheckCurrent | Key::CheckCurrentLeft => "mA",
        Key::Display
        | Key::DisplayRepeat
        | Key::DisplayAfterBleed
        | Key::DisplayCleared
        | Key::DisplayLeft
        | Key::OffsetValue
        | Key::ReadingBefore
        | Key::ReadingAfter
        | Key::VentedReading
        | Key::CheckDisplay
        | Key::CheckDisplayLeft => display,
        _ => "",
    };
    let bare = line.text.trim().parse::<f64>().is_ok();
    if bare && !unit.is_empty() { format!("{} {unit}", line.text.trim()) } else { line.text.to_owned() }
}

fn what(instrument: &Instrument, spot: Spot) -> String {
    let row = usize::try_from(spot.row).unwrap_or(usize::MAX);
    match spot.key {
        Key::SafetyItem => instrument.safety.get(row).cloned().unwrap_or_default(),
        Key::SafetyItemEarlier => {
            let row = usize::try_from(earlier_row(spot.row)).unwrap_or(usize::MAX);
            let item = instrument.safety.get(row).cloned().unwrap_or_default();
            format!("Before a break: {item}")
        }
        Key::VentedReading if equalised(instrument) => "Display with both sides joined".to_owned(),
        Key::VentAllowed if equalised(instrument) => {
            "Cold, harmless, may be shut off and equalised".to_owned()
        }
        Key::BackItem => instrument.back.get(row).cloned().unwrap_or_default(),
        Key::Dip => format!("{} {}", names::key(spot.key), spot.row + 1),
        key if key.code() >= 116 && key.code() <= 121 => {
            format!("Point {}, {}", spot.row + 1, names::key(key))
        }
        key => names::key(key).to_owned(),
    }
}

/// The step an answer belongs to; evidence has its own parts.
fn step_of(key: Key) -> Step {
    match key.code() {
        _ if matches!(key, Key::FlowInRiserLeft | Key::FlowRateLeft | Key::FlowRateFromLeft) => Step::AsLeft,
        0..20 => Step::Find,
        20..30 => Step::MakeSafe,
        30..50 => Step::AsFound,
        50..70 => Step::Evidence,
        70..80 => Step::Shift,
        80..90 => Step::AsLeft,
        90..100 => Step::BackInService,
        110..119 => Step::AsFound,
        119..122 => Step::AsLeft,
        124..126 | 150..152 => Step::MakeSafe,
        152 => Step::Evidence,
        _ => Step::Sign,
    }
}

#[cfg(test)]
mod tests {
    use domain::visit::{Key, Spot};
    use rstest::rstest;

    use super::{Line, with_unit};

    #[rstest]
    #[case(Key::InhibitMinutes, "90", "90 min")]
    #[case(Key::LoopCurrent, "12.00", "12.00 mA")]
    #[case(Key::Display, "14.53", "14.53 ft")]
    #[case::as_written(Key::Display, "14.53 or so", "14.53 or so")]
    #[case::its_own_unit(Key::Dip, "14' 3\"", "14' 3\"")]
    #[case::words(Key::Note, "12", "12")]
    fn a_bare_number_is_read_over_with_its_unit(#[case] key: Key, #[case] text: &str, #[case] reads: &str) {
        let line = Line { spot: Spot::of(key), text, echo: String::new() };
        assert_eq!(with_unit("ft", &line), reads);
    }
}
