//! Units, columns and ranging against published and independently computed values.
//!
//! Values, sources and tolerances stand in `reference/{quantity,head,ranging}.json`. Each test says how many
//! entries its group holds, so that a lost entry is a failed test.

mod facts;
mod head;
mod quantity;
mod ranging;
