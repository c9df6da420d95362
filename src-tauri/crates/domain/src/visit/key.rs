//! What can be asked in a visit. The numbers are written into signed records.

use serde::{Deserialize, Serialize};

macro_rules! keys {
    ($($(#[$doc:meta])* $name:ident = $code:literal;)*) => {
        /// What an answer is about.
        ///
        /// The codes are frozen: signed records hold them. A code is never given a second meaning; new keys
        /// take new numbers.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        #[serde(rename_all = "snake_case")]
        #[cfg_attr(feature = "bindings", derive(ts_rs::TS))]
        pub enum Key { $($(#[$doc])* $name,)* }

        impl Key {
            /// Every key there is, in code order.
            pub const ALL: &'static [Key] = &[$(Key::$name,)*];

            /// Returns the number that stands for this key in a signed record.
            #[must_use]
            pub fn code(self) -> u16 { match self { $(Key::$name => $code,)* } }

            /// Returns the key that a signed record's number stands for.
            #[must_use]
            pub fn from_code(code: u16) -> Option<Key> { match code { $($code => Some(Key::$name),)* _ => None } }
        }
    };
}

keys! {
    // Find
    /// How the instrument was found (choice).
    FoundBy = 10;
    /// Does the tag on the nameplate agree? (choice yes/no)
    TagMatches = 11;
    /// The serial number as read off the nameplate (text).
    SerialRead = 12;
    /// Does the range on the nameplate agree? (choice yes/no/not legible)
    RangeMatches = 13;
    /// The code text that was scanned (text, kept as data).
    CodeText = 14;
    /// By how many minutes the phone's clock was ahead of UTC when the visit began (number, put in by the phone).
    ClockOffset = 15;

    // Make safe
    /// One safety item (row = its place in the instrument's list); choice done / does not apply / not done.
    SafetyItem = 20;
    /// Why an item does not apply or is not done (row as the item).
    SafetyReason = 21;
    /// Who in the control room was told (text).
    ControlRoomTold = 22;
    /// For how many minutes alarms are inhibited (number).
    InhibitMinutes = 23;

    // As found
    /// The display reading before anything is touched (reading).
    Display = 30;
    /// The loop current (mA); may be skipped.
    LoopCurrent = 31;
    /// The level the control room sees for this transmitter (length); may be skipped.
    ControlRoom = 32;
    /// What is known of the offset the unit carries (choice).
    OffsetKnown = 33;
    /// That offset (reading); the old one when it was cleared today.
    OffsetValue = 34;
    /// Where the standing head is being taken out today (choice).
    StandingHeadAt = 35;
    /// Was the line bled until clear? (choice)
    LineBled = 36;
    /// How the vent path looked (choice).
    VentLooked = 37;
    /// Damping set on the unit (seconds).
    Damping = 38;
    /// The display after the line was bled (reading).
    DisplayAfterBleed = 39;
    /// Liquid temperature today (temperature); the register's season value when left empty.
    LiquidTemperature = 40;
    /// The display after the offset was cleared (reading).
    DisplayCleared = 41;

    /// Temperature of the liquid in riser or impulse line (temperature); the register's when left empty.
    RiserTemperature = 43;
    /// Temperature of leg or capillaries (temperature); the register's when left empty.
    FillTemperature = 44;
    /// What runs in the riser while the display is read (choice still / drawing / filling / not known).
    FlowInRiser = 46;
    /// At which rate (number, in the site's unit of flow).
    FlowRate = 47;
    /// Where that rate comes from (choice); estimated when left empty.
    FlowRateFrom = 48;
    /// What runs in the riser while the display is read as left (choice); as found when left empty.
    FlowInRiserLeft = 49;
    /// Is a closed vessel at work, or cold and at atmospheric pressure? (choice); at work when left empty.
    VesselToday = 45;

    // Evidence, by piece
    /// How the empty tank was seen (choice).
    EmptySeen = 50;
    /// One dip or drop as read off the tape (length; row = repeat).
    Dip = 51;
    /// Why a dip is set aside (text; row = repeat). An empty text means it counts.
    DipSetAside = 52;
    /// The tape used (choice by register id, or text).
    TapeUsed = 53;
    /// Display just before the reference was taken (reading).
    ReadingBefore = 54;
    /// Display just after the reference was taken (reading).
    ReadingAfter = 55;
    /// Measured riser height, sensing point to the tank's zero; with two seals, from seal to seal (length).
    RiserHeight = 56;
    /// How the riser was measured (choice).
    RiserHow = 57;
    /// Display with both sides at atmosphere (reading).
    VentedReading = 58;
    /// Is this service cold, harmless and isolable, and is there no seal? (choice yes/no)
    VentAllowed = 59;
    /// How the running overflow was seen: a film, or with a head that was measured (choice).
    OverflowSeen = 60;
    /// Head over the overflow's crest (length).
    OverflowHead = 61;
    /// Another, independent instrument (choice by register name, or text).
    OtherUsed = 62;
    /// The level it tells (length).
    OtherLevel = 63;
    /// Its expanded uncertainty, where the register has none for it (length).
    OtherUncertainty = 64;
    /// Does it measure with a sensor of its own? (choice yes/no)
    OtherOwnSensor = 65;
    /// What stayed standing on the sensor in a vented check: a stub of liquid (length); nothing when left empty.
    VentedLeft = 66;
    /// The display read again, as found (reading; row = repeat).
    DisplayRepeat = 67;
    /// Temperature of the tape while it was read (temperature).
    TapeTemperature = 68;
    /// How many are here today (choice alone / two or more).
    Crew = 69;

    // Shift
    /// What the person decides (choice trim / leave).
    Decision = 70;
    /// Why the decision departs from the advice (text).
    DecisionReason = 71;
    /// The trim rule, where the register leaves it open (choice).
    TrimRule = 72;

    // As left
    /// Did the trim take? (choice done / did not take, put back)
    TrimResult = 80;
    /// The display after the trim, or after putting back (reading).
    DisplayLeft = 81;
    /// The loop current after the trim (mA); may be skipped.
    CurrentLeft = 82;
    /// The level the control room sees afterwards (length); may be skipped.
    ControlRoomLeft = 83;

    // Back in service
    /// One item (row); choice done / not done.
    BackItem = 90;
    /// Why an item is not done (text; row as the item).
    BackReason = 91;

    // Sign
    /// Anything else worth knowing (text).
    Note = 100;
    /// The reason given for going on past a warning (text; row = the warning's code).
    WarningReason = 101;

    // Five-point check, as found and as left
    /// Is a pressure source at hand for a five-point check? (choice yes/no)
    PressureSource = 110;
    /// The source used (text).
    SourceName = 111;
    /// Its expanded uncertainty, k = 2 (a pressure with its unit, or a percentage of the span).
    SourceUncertainty = 112;
    /// What was applied (choice pressure on the sensor / level it should show).
    AppliedAs = 113;
    /// The expanded uncertainty of what the current is read with, k = 2 (mA); may be skipped.
    MeterUncertainty = 114;
    /// The unit the source reads in (a unit's symbol); the display's when left empty.
    SourceUnit = 115;
    /// What was applied, as found (row = point).
    CheckApplied = 116;
    /// What the display showed, as found (reading; row = point).
    CheckDisplay = 117;
    /// What the loop carried, as found (mA; row = point).
    CheckCurrent = 118;
    /// What was applied, as left (row = point).
    CheckAppliedLeft = 119;
    /// What the display showed, as left (reading; row = point).
    CheckDisplayLeft = 120;
    /// What the loop carried, as left (mA; row = point).
    CheckCurrentLeft = 121;

    // Make safe, before a long break
    /// A safety item as it was answered before a long break (row = 1000 times the break, plus the item's).
    SafetyItemEarlier = 124;
    /// The reason that went with it (row as the item).
    SafetyReasonEarlier = 125;
    // As left: the flow
    /// At which rate, as left (number, in the site's unit of flow).
    FlowRateLeft = 140;
    /// Where that rate comes from (choice); estimated when left empty.
    FlowRateFromLeft = 141;

    // Evidence: an earlier visit
    /// Is it the same unit as then, neither moved nor mounted anew since? (choice yes/no)
    EarlierSame = 130;

    // Make safe and Evidence, before a long break (row = the break)
    /// Who in the control room was told before a long break.
    ControlRoomToldEarlier = 150;
    /// For how many minutes alarms were inhibited before a long break.
    InhibitMinutesEarlier = 151;
    /// How many were here before a long break.
    CrewEarlier = 152;
    // Evidence: dips and drops
    /// How far the tape's foot hung sideways of its top (length); plumb when left empty.
    TapeSideways = 153;
    // Find: another unit on the plate than in the register
    /// Is another unit fitted than the register knows? (choice yes/no)
    UnitFitted = 160;
    /// Its lower range limit (pressure).
    UnitLrl = 161;
    /// Its upper range limit (pressure).
    UnitUrl = 162;
    /// Its minimum span (pressure); the register's when left empty.
    UnitMinSpan = 163;
    /// Its maximum working pressure (pressure).
    UnitMaxWorking = 164;
    /// The largest offset it can hold (pressure); the register's when left empty.
    UnitTrimLimit = 165;
}
