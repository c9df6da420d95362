//! How often honest numbers are alarmed at: one visit in a hundred at most, all checks of a visit counted together.
//!
//! Every check that judges by chance has a share of that one in a hundred as its level. The chance that any of them
//! speaks is at most the sum of their levels, however they hang together (Bonferroni), so no check has to know of the
//! others. Where a visit makes a check several times, the check shares its level out among them. What is left over is
//! for the checks that judge by a bound: loop against display, the control room, an offset near a multiple of the
//! standing head, a guard band. A new check takes its share here.

/// Everything together.
const HONEST: f64 = 0.01;

/// The evidence against itself, all of it as one test (chi-square).
pub(crate) const REFERENCES: f64 = 0.002;
/// Two of the references against each other, all pairs together.
pub(crate) const PAIRS: f64 = 0.001;
/// The numbers of the evidence, with the register's standing head among them: then a slip is looked for.
pub(crate) const NUMBERS: f64 = 0.003;
/// A riser that an empty tank leaves too short, all empties together; where a slip in the numbers is spoken of, that says it.
pub(crate) const EMPTY: f64 = 0.0005;
/// Dips of one surface against each other, all pieces together.
pub(crate) const DIPS: f64 = 0.001;
/// A step of the standing offset somewhere in the history.
pub(crate) const STEPS: f64 = 0.001;
/// A trim that evidence taken after it sees somewhere else.
pub(crate) const TRIM: f64 = 0.001;

const SHARED_OUT: f64 = REFERENCES + PAIRS + NUMBERS + EMPTY + DIPS + STEPS + TRIM;
const _: () = assert!(SHARED_OUT < HONEST, "the checks are given more alarms than honest visits may raise");
