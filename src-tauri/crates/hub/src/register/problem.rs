//! What is wrong with a register that comes in.

use std::fmt;

/// One thing that is wrong, where, and what to write instead.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Problem {
    /// The line of the file, from 1; in a register's own file the row's place in its list. 0 for the file as a whole.
    pub line: u64,
    /// The instrument's tag, as far as it could be read.
    pub tag: String,
    /// The column or field.
    pub column: String,
    /// What is wrong and what to write.
    pub text: String,
    /// True where the row is taken all the same: a person is to look at it.
    pub taken: bool,
}

impl fmt::Display for Problem {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.line {
            0 => out.write_str("The file")?,
            line => write!(out, "Line {line}")?,
        }
        if !self.tag.is_empty() {
            write!(out, " ({})", self.tag)?;
        }
        if !self.column.is_empty() {
            write!(out, ", column {}", self.column)?;
        }
        write!(out, ": {}", self.text)
    }
}
