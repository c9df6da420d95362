//! What things are called where a sentence or a record names them.

use domain::visit::{Choice, Key, PieceKind, Teller};

/// Names a kind of evidence.
pub(super) fn piece(kind: PieceKind) -> &'static str {
    match kind {
        PieceKind::KnownEmpty => "Tank known empty",
        PieceKind::Dip => "Dip from the floor",
        PieceKind::Drop => "Drop from the hatch",
        PieceKind::Riser => "Measured riser",
        PieceKind::Vented => "Vented check",
    }
}

/// Returns the word of who tells a level.
pub(super) fn teller(teller: Teller) -> &'static str {
    match teller {
        Teller::Display => "display",
        Teller::Current => "current",
        Teller::ControlRoom => "control_room",
    }
}

/// Names what was asked, as a record lists it.
pub(super) fn key(key: Key) -> &'static str {
    match key {
        Key::FoundBy => "Found",
        Key::TagMatches => "Tag on the plate agrees",
        Key::SerialRead => "Serial as read",
        Key::RangeMatches => "Range on the plate agrees",
        Key::CodeText => "Code as scanned",
        Key::SafetyItem | Key::BackItem => "Item",
        Key::SafetyReason | Key::BackReason | Key::DecisionReason | Key::WarningReason => "Reason",
        Key::ControlRoomTold => "Told in the control room",
        Key::InhibitMinutes => "Alarms inhibited for",
        Key::Display => "Display as found",
        Key::LoopCurrent => "Loop current as found",
        Key::ControlRoom => "Control room as found",
        Key::OffsetKnown => "Offset the unit carries",
        Key::OffsetValue => "That offset",
        Key::StandingHeadAt => "Standing head taken out",
        Key::LineBled => "Line bled",
        Key::VentLooked => "Vent path",
        Key::Damping => "Damping",
        Key::DisplayAfterBleed => "Display after bleeding",
        Key::LiquidTemperature => "Liquid temperature",
        Key::DisplayCleared => "Display after clearing the offset",
        Key::EmptySeen => "How it was seen",
        Key::Dip => "Read off the tape",
        Key::DipSetAside => "Set aside because",
        Key::TapeUsed => "Tape",
        Key::ReadingBefore => "Display before",
        Key::ReadingAfter => "Display after",
        Key::RiserHeight => "Riser height",
        Key::RiserHow => "Measured",
        Key::VentedReading => "Display at atmosphere",
        Key::VentAllowed => "Cold, harmless, isolable, no seal",
        Key::Decision => "Decision",
        Key::TrimRule => "Trim rule",
        Key::TrimResult => "Trim",
        Key::DisplayLeft => "Display as left",
        Key::CurrentLeft => "Loop current as left",
        Key::ControlRoomLeft => "Control room as left",
        Key::Note => "Note",
        Key::SafetyItemEarlier => "Item, before a break",
        Key::SafetyReasonEarlier => "Reason, before a break",
        Key::PressureSource => "Pressure source at hand",
        Key::SourceName => "Pressure source",
        Key::SourceUncertainty => "Its uncertainty",
        Key::AppliedAs => "What was applied",
        Key::MeterUncertainty => "Uncertainty of the meter",
        Key::SourceUnit => "Unit of the source",
        Key::CheckApplied => "applied",
        Key::CheckDisplay => "display",
        Key::CheckCurrent => "loop current",
        Key::CheckAppliedLeft => "applied, as left",
        Key::CheckDisplayLeft => "display, as left",
        Key::CheckCurrentLeft => "loop current, as left",
    }
}

/// Names a choice, as a record lists it.
pub(super) fn choice(choice: Choice) -> &'static str {
    match choice {
        Choice::Yes => "yes",
        Choice::No => "no",
        Choice::NotLegible => "not legible",
        Choice::Done => "done",
        Choice::DoesNotApply => "does not apply",
        Choice::NotDone => "not done",
        Choice::ByCode => "by its code",
        Choice::ByTyping => "by typing the tag",
        Choice::ByList => "from the list",
        Choice::OffsetReadToday => "read on the unit today",
        Choice::OffsetClearedToday => "cleared today",
        Choice::OffsetFromRecord => "taken from the last record",
        Choice::OffsetUnknown => "not known",
        Choice::HeadInOffset => "by an offset in the transmitter",
        Choice::HeadInRange => "by the range",
        Choice::HeadInControlRoom => "by control-room scaling",
        Choice::HeadNowhere => "nowhere",
        Choice::HeadTwice => "in two places",
        Choice::HeadNotSettled => "not settled",
        Choice::BledClear => "until clear",
        Choice::BledNotPossible => "not possible today",
        Choice::VentClear => "clear and dry",
        Choice::VentBlocked => "blocked or wet",
        Choice::VentNotSeen => "not seen",
        Choice::SillSeen => "outlet sill seen",
        Choice::EmptyBySteadyReading => "reading stood still",
        Choice::EmptyByReport => "on somebody's word",
        Choice::ByTape => "with a tape",
        Choice::ByLaser => "with a laser",
        Choice::ByDrawing => "off a drawing",
        Choice::Trim => "trim",
        Choice::Leave => "leave as it is",
        Choice::TrueAtZero => "true at zero",
        Choice::TrueAtReference => "true at the reference",
        Choice::AppliedPressure => "pressure on the sensor",
        Choice::SimulatedLevel => "level that should be shown",
        Choice::TrimTook => "took",
        Choice::PutBack => "did not take; put back as found",
    }
}
