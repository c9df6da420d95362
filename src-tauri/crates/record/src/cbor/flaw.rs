//! What can be wrong with a piece of CBOR.

use thiserror::Error;

use super::MAX_DEPTH;

/// One thing that is not permitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Error)]
pub enum Flaw {
    /// The bytes end in the middle.
    #[error("the bytes end too early")]
    CutShort,
    /// More follows where nothing should.
    #[error("more bytes follow")]
    Trailing,
    /// A number or length is written longer than it needs to be.
    #[error("a number is not in its shortest form")]
    NotShortest,
    /// A length is left open.
    #[error("a length is left open")]
    Indefinite,
    /// The keys of a map do not go upwards.
    #[error("the keys of a map are not in order, or one stands twice")]
    KeyOrder,
    /// A floating-point number.
    #[error("a floating-point number stands there")]
    Float,
    /// A number above 64 bits.
    #[error("a number above 64 bits stands there")]
    BigNumber,
    /// A simple value other than false, true and null.
    #[error("a value stands there that this format does not use")]
    Simple,
    /// A first byte that CBOR keeps for later.
    #[error("a reserved byte stands there")]
    Reserved,
    /// A text that is not UTF-8.
    #[error("a text is not UTF-8")]
    NotText,
    /// Too many levels.
    #[error("it is nested more than {MAX_DEPTH} deep")]
    TooDeep,
}

/// A flaw and where it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("at byte {at}, {flaw}")]
pub struct Fault {
    /// The offset of the item, or of the key, that is wrong.
    pub at: usize,
    /// What is wrong.
    pub flaw: Flaw,
}
