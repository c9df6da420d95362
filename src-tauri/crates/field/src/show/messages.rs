//! Remarks as messages, with a place for the reason where one is wanted.

use domain::visit::{Draft, Remark, Spot, Takes};

use super::fields;
use crate::message;
use crate::view::{FieldKind, FieldView, Message};

/// Returns a remark with the field for its reason.
pub(crate) fn with_reason(draft: &Draft, remark: &Remark) -> Message {
    let reason = remark.reason_spot().map(|spot| Box::new(reason_field(draft, spot)));
    Message { reason, ..message::plain(remark) }
}

/// Returns remarks with the fields for their reasons.
pub(super) fn all(draft: &Draft, remarks: &[Remark]) -> Vec<Message> {
    remarks.iter().map(|remark| with_reason(draft, remark)).collect()
}

fn reason_field(draft: &Draft, spot: Spot) -> FieldView {
    FieldView {
        kind: FieldKind::Text,
        required: true,
        ..fields::blank(draft, spot, &Takes::Text(Vec::new()))
    }
}
