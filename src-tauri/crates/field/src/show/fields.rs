//! What is asked, as fields.

use domain::visit::{Ask, Assessment, Draft, Opt, Spot, Takes};

use crate::message;
use crate::view::{FieldKind, FieldView, OptionView, Which};

/// Returns the fields of what is asked.
pub(super) fn fields(draft: &Draft, assessment: &Assessment, asked: &[Ask]) -> Vec<FieldView> {
    asked.iter().map(|ask| field(draft, assessment, ask)).collect()
}

fn field(draft: &Draft, assessment: &Assessment, ask: &Ask) -> FieldView {
    let mut field = FieldView {
        label: ask.label.clone(),
        unit: unit(assessment, &ask.takes),
        required: ask.required,
        ..blank(draft, ask.spot, &ask.takes)
    };
    if let Some(entry) = assessment.entries.at(ask.spot) {
        field.echo.clone_from(&entry.echo);
        field.problem = entry.problem.as_ref().map(message::plain);
        field.which = entry
            .which
            .iter()
            .map(|(text, label)| Which { text: text.clone(), label: label.clone() })
            .collect();
    }
    field
}

/// Returns a field with what stands in it, before anything is said about it.
pub(super) fn blank(draft: &Draft, spot: Spot, takes: &Takes) -> FieldView {
    let text = draft.answers.text(spot).to_owned();
    let options = match takes {
        Takes::Text(options) | Takes::Choice(options) => {
            options.iter().map(|option| offered(option, &text)).collect()
        }
        _ => Vec::new(),
    };
    FieldView {
        key: spot.key,
        piece: spot.piece.0,
        row: spot.row,
        kind: kind(takes),
        label: String::new(),
        unit: String::new(),
        text,
        echo: String::new(),
        problem: None,
        which: Vec::new(),
        options,
        required: false,
    }
}

fn offered(option: &Opt, text: &str) -> OptionView {
    OptionView {
        value: option.value.clone(),
        choice: option.choice,
        label: option.label.clone(),
        chosen: option.value == text,
    }
}

fn kind(takes: &Takes) -> FieldKind {
    match takes {
        Takes::Length => FieldKind::Length,
        Takes::Reading | Takes::Applied(_) => FieldKind::Reading,
        Takes::Current => FieldKind::Current,
        Takes::Number(_) => FieldKind::Number,
        Takes::Temperature => FieldKind::Temperature,
        Takes::Text(_) | Takes::Uncertainty | Takes::Pressure => FieldKind::Text,
        Takes::Choice(_) => FieldKind::Choice,
    }
}

fn unit(assessment: &Assessment, takes: &Takes) -> String {
    match takes {
        Takes::Reading => assessment.known.unit.symbol(),
        Takes::Applied(unit) => unit.symbol(),
        Takes::Current => "mA".into(),
        Takes::Number(unit) => (*unit).into(),
        _ => String::new(),
    }
}
