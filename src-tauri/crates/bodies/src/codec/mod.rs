//! Maps with numbers as keys, and numbers as decimal fractions.
//!
//! A field with nothing in it (an empty text, an empty list, false) is left out. That keeps bodies short and gives
//! nothing two forms: writing it out is refused when the body is compared with what would be written.

mod number;
mod reader;
mod subject;
mod writer;

pub(crate) use number::{read_measured, write_measured};
pub(crate) use reader::{Fields, Read, bytes, row, seq, text, word};
pub(crate) use subject::{read_subject, write_subject};
pub(crate) use writer::{Map, Out, Written};
