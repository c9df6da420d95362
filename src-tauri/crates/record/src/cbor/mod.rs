//! Strict reading of CBOR: one content, one form.
//!
//! Libraries read generously, which is right for most uses and wrong under a signature: a longer form of the
//! same number would be a changed entry that still says the same. [`check`] and [`first`] pass only what RFC 8949,
//! section 4.2.1, calls deterministic, and less than that: no floats (measured numbers are decimal fractions), no
//! simple values but false, true and null, no numbers above 64 bits, no more than [`MAX_DEPTH`] levels. After
//! that any library may read the bytes.

mod flaw;
mod walk;

pub use flaw::{Fault, Flaw};
pub use walk::{MAX_DEPTH, check, first};
