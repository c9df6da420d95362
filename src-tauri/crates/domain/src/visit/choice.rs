//! The choices a person can make, all in one list so that each has one meaning and one label.

use serde::{Deserialize, Serialize};

macro_rules! choices {
    ($($(#[$doc:meta])* $name:ident = $word:literal;)*) => {
        /// A choice. Kept in answers and signed records as its word, which is frozen.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        #[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
        pub enum Choice { $($(#[$doc])* $name,)* }

        impl Choice {
            /// Every choice there is.
            pub const ALL: &'static [Choice] = &[$(Choice::$name,)*];

            /// Returns the word kept in answers and records.
            #[must_use]
            pub fn word(self) -> &'static str { match self { $(Choice::$name => $word,)* } }

            /// Returns the choice that a word stands for.
            #[must_use]
            pub fn from_word(word: &str) -> Option<Choice> { match word { $($word => Some(Choice::$name),)* _ => None } }
        }
    };
}

choices! {
    /// Yes.
    Yes = "yes";
    /// No.
    No = "no";
    /// It could not be read.
    NotLegible = "not_legible";
    /// Done.
    Done = "done";
    /// Does not apply here (a reason follows).
    DoesNotApply = "does_not_apply";
    /// Not done (a reason follows).
    NotDone = "not_done";

    /// Found by its tag code.
    ByCode = "by_code";
    /// Found by typing.
    ByTyping = "by_typing";
    /// Picked from a list.
    ByList = "by_list";

    /// The offset was read on the unit today.
    OffsetReadToday = "offset_read_today";
    /// The offset was cleared today; the old value is recorded.
    OffsetClearedToday = "offset_cleared_today";
    /// The offset is taken from a record: an assumption.
    OffsetFromRecord = "offset_from_record";
    /// Nobody knows the offset the unit carries.
    OffsetUnknown = "offset_unknown";

    /// The standing head is taken out by an offset in the transmitter.
    HeadInOffset = "head_in_offset";
    /// By the range: LRV stands at the standing head.
    HeadInRange = "head_in_range";
    /// By scaling in the control room.
    HeadInControlRoom = "head_in_control_room";
    /// Nowhere: everything shows the standing head too.
    HeadNowhere = "head_nowhere";
    /// In two places at once.
    HeadTwice = "head_twice";
    /// Not settled yet.
    HeadNotSettled = "head_not_settled";

    /// Bled until it ran clear.
    BledClear = "bled_clear";
    /// It could not be bled today.
    BledNotPossible = "bled_not_possible";

    /// The vent path is clear and dry.
    VentClear = "vent_clear";
    /// The vent path is blocked or wet.
    VentBlocked = "vent_blocked";
    /// The vent path could not be seen.
    VentNotSeen = "vent_not_seen";

    /// No water runs in the riser.
    FlowStill = "flow_still";
    /// Water is drawn out of the tank through the riser.
    FlowDrawing = "flow_drawing";
    /// Water is filled into the tank through the riser.
    FlowFilling = "flow_filling";
    /// Nobody knows whether water runs in the riser.
    FlowNotKnown = "flow_not_known";
    /// The flow is the same as when the display was read as found.
    FlowAsFound = "flow_as_found";

    /// A meter shows the rate.
    RateMetered = "rate_metered";
    /// The rate is reckoned from pumps, or told from experience.
    RateEstimated = "rate_estimated";

    /// The outlet sill was seen dry at its edge: water stands at the sill.
    SillSeen = "sill_seen";
    /// The reading stood still for some minutes with the outlet open.
    EmptyBySteadyReading = "empty_by_steady_reading";
    /// Somebody said so.
    EmptyByReport = "empty_by_report";

    /// The overflow ran as a film.
    Film = "film";
    /// The head over the overflow's crest was measured.
    HeadMeasured = "head_measured";

    /// One person is here.
    Alone = "alone";
    /// Two or more are here.
    TwoOrMore = "two_or_more";

    /// Measured with a tape.
    ByTape = "by_tape";
    /// Measured with a laser.
    ByLaser = "by_laser";
    /// Taken off a drawing.
    ByDrawing = "by_drawing";

    /// The vessel is at its working pressure and temperature.
    VesselWorking = "vessel_working";
    /// The vessel is cold and at atmospheric pressure.
    VesselCold = "vessel_cold";

    /// Make the trim.
    Trim = "trim";
    /// Leave it as it is.
    Leave = "leave";

    /// The rule: zero level shows zero.
    TrueAtZero = "true_at_zero";
    /// The rule: the display shows the referenced level.
    TrueAtReference = "true_at_reference";

    /// What a source applies is a pressure on the sensor.
    AppliedPressure = "applied_pressure";
    /// What a source applies is the level that should be shown.
    SimulatedLevel = "simulated_level";

    /// The trim took.
    TrimTook = "trim_took";
    /// The trim did not take; the unit was put back as found.
    PutBack = "put_back";
}
