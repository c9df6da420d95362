//! Why nothing is said of a drift or an interval.

use thiserror::Error;

/// What is missing. None of these is a number: what cannot be judged is not zero.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum NotJudged {
    /// There is no earlier visit at all.
    #[error("Not judged: no visit with a standing offset is known. It begins with the next one.")]
    NoVisits,
    /// There is one.
    #[error("Not judged: one visit tells no drift. The next one will.")]
    OneVisit,
    /// All visits are of one moment.
    #[error("Not judged: the visits are all of one time. Check their dates.")]
    OneTime,
    /// A visit is dated before the one it came after.
    #[error(
        "Not judged: visit {place} is dated before the one it came after, so a clock was wrong. Check the dates."
    )]
    OutOfOrder {
        /// Its place in the list, from 1.
        place: usize,
    },
    /// A date, offset or uncertainty is not a number that can be used.
    #[error(
        "Not judged: visit {place} holds a number that cannot be used. Check its date, offset and uncertainty."
    )]
    NotANumber {
        /// Its place in the list, from 1.
        place: usize,
    },
    /// Neither stated uncertainties nor enough visits to see the scatter.
    #[error("Not judged: no uncertainty is stated, and two visits show no scatter. A third visit would.")]
    NoScatter,
    /// Some visits state an uncertainty and some do not.
    #[error(
        "Not judged: visit {place} states no uncertainty and others do. State it, or leave that visit's offset out."
    )]
    NoUncertainty {
        /// Its place in the list, from 1.
        place: usize,
    },
    /// The visits do not determine a line.
    #[error("Not judged: the visits lie too close together in time. Wait for the next one.")]
    TooClose,
    /// No as-found error to climb or descend by.
    #[error("Not judged: the last visit holds no error as found. The interval stays as it is.")]
    NoError,
    /// No interval in force.
    #[error("Not judged: no interval is in force. State one in the register, or make a second visit.")]
    NoInterval,
    /// A limit, interval or factor is not positive.
    #[error("Not judged: {what} must be more than zero. Check the register.")]
    NotPositive {
        /// What it is called.
        what: &'static str,
    },
}
