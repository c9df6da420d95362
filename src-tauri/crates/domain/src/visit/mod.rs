//! The visit as data: eight steps, what each asks, what has been answered, and what follows from it.
//!
//! A visit is kept as *answers*: the text a person typed or the choice they made, at a *spot*, with the time.
//! Everything else (parsed numbers, the shift, the verdict, what is still missing) is worked out from the
//! answers and the instrument's register row, so a draft that was interrupted anywhere opens
//! where it stopped, and anyone who holds a signed visit can work it out again.

mod advice;
mod after_trim;
mod answers;
mod asks;
mod assess;
pub mod bounds;
mod breaks;
mod builder;
mod checks;
mod choice;
mod claim;
mod climb;
mod conditions;
mod earlier;
mod entries;
mod entry;
mod finish;
mod finished;
mod fitted;
mod five;
mod flow;
mod highest;
mod instrument;
mod key;
mod known;
mod left;
mod left_over;
mod levels;
mod missing;
mod moment;
mod mounted;
mod mounting;
mod moving;
mod next_best;
mod not_here;
mod other;
mod overflow;
mod overpressure;
mod plan;
mod plausible;
mod recorded;
mod remark;
mod riser_pipe;
pub mod safety;
mod sensor_range;
mod series;
mod show;
mod slips;
mod step;
pub mod tag;
mod tape;
mod target;
mod together;
mod unread;
mod usual;
mod vented;
mod working;
mod working_mounting;

pub use advice::{Advised, Shift};
pub use answers::{Answer, Answers, Draft, Moment, Piece, PieceId, PieceKind, Spot, Timing};
pub use asks::{Ask, Opt, Takes, asks, piece_asks};
pub use assess::{Assessment, assess};
pub use breaks::earlier_row;
pub use choice::Choice;
pub use claim::Claim;
pub use climb::{Climb, climb};
pub use conditions::{Conditions, Today};
pub use earlier::{Earlier, KnownEarlier, KnownStanding, Past, PastVisit, Plan, told};
pub use entries::Entries;
pub use entry::{Entry, Value};
pub use finished::{Answered, Finished, Measured, ResultKey, ResultLine, Said, WorkLine};
pub use fitted::fitted;
pub use five::{
    Checked, FivePoint, HEADING_FOUND, HEADING_LEFT, PointKeys, PointRow, When, asked as belongs_to_check,
    cautions as check_cautions,
};
pub use highest::{Highest, Pressing};
pub use instrument::{Crew, Elevation, Hazards, Instrument, Limits, Liquid, Other, Site, Tape};
pub use key::Key;
pub use known::{
    Fault, Known, KnownMake, KnownMounting, KnownOther, KnownOverpressure, KnownPipe, KnownRiser,
    KnownSensor, KnownTape,
};
pub use left::Left;
pub use left_over::{LeftOver, PARTS, PointLeft};
pub use levels::{LevelTold, Teller};
pub use missing::{Missing, Place, name as step_name};
pub use moment::{date, day_of};
pub use mounted::{Filling, Mounted};
pub use mounting::unfit;
pub use next_best::{Measure, NextBest, Proposal};
pub use not_here::NotHere;
pub use overpressure::Overpressure;
pub use plan::{Candidate, Planned, plan};
pub use remark::{Doubt, Grade, Remark};
pub use riser_pipe::RiserPipe;
pub use sensor_range::SensorRange;
pub use show::Show;
pub use slips::{Slip, SlipCause};
pub use step::Step;
pub use target::Target;
pub use together::Stated;
pub use vented::{check_name, equalised};
pub use working::DECISION_RULE;

/// The number of the model by which visits are worked out here. It goes up when the same answers would give other
/// numbers; signed records hold it.
///
/// * 1: as visits were first worked out.
/// * 2: a display reading that was taken beside one piece of evidence, and stands for others that have none of their own,
///   counts with its last digit. Model 1 took it as exact there, which moved the shift of a dip with a drop beside it by
///   fractions of a millimetre. Evidence of one piece comes out the same by both.
/// * 3: such a reading counts for both pieces with one and the same last digit, where model 2 took it as two that
///   nothing joins; and what another instrument shares with the rest (a density, a hatch mark) is taken out of its stated
///   uncertainty once. A dip alone, a riser alone and a tank known empty come out the same by all three.
/// * 4: where readings of the display stand out of a series of six or more as surges, the median of all stands for the visit, or
///   the line through the others where it moves; model 3 took the mean of all. And where two measured risers lean on one
///   height of the register (the top of a leg, a lower seal), they share what it may be off by; model 3 took it for two
///   causes. All else comes out the same by both.
/// * 5: the display read before and after a reference tells a rate only where the two differ by more than their last digits
///   and the scatter of a series explain, the latest such counts, and it is followed for ten minutes; what the level may have
///   become widens the error as left. Model 4 followed any difference of the first two readings without end, and widened
///   nothing. A five-point check as found takes the offset on record that the shift takes: what the last visit left, where
///   model 4 took the register's bare number. And a tape is overdue by the day where the technician was, where the visit
///   says how far its clock was from UTC; model 4 counted UTC's days. All else comes out the same by both.
pub const MODEL: u32 = 5;
