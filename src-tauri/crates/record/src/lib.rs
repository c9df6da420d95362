//! The envelope of everything that is signed: entries, their chain, and the exported file.
//!
//! An *entry* is two byte strings, a signed header and a body. The header is a COSE_Sign1 (RFC 9052) that names
//! the log, the place in it, the payload before it and the hash of the body; the body is CBOR whose meaning is
//! given by the entry's kind and is not known here. `FORMAT.md` beside this crate writes both down, frozen.
//!
//! Everything here works on bytes that are handed in: no file, no clock, no random source. Two rules hold
//! throughout:
//!
//! - **The bytes that arrived are what is hashed, verified, kept and passed on.** [`open`] gives a view of them;
//!   nothing is written anew in order to be checked.
//! - **One content has one form.** What is not deterministic CBOR (RFC 8949, section 4.2.1) is refused, so that
//!   nobody can change a byte of a signed entry and still have it accepted.
//!
//! ```
//! use record::{Claimed, Kind, Link, NewEntry, SecretKey, Signer, open, seal, verify};
//!
//! let key = SecretKey::take(&mut [7; 32]);
//! let new = NewEntry {
//!     link: Link::First,
//!     kind: Kind(1),
//!     body_version: 1,
//!     claimed: Claimed { millis: 1_790_000_000_000, offset_minutes: 60 },
//!     boot: None,
//! };
//! let sealed = seal(&new, b"\x65hello", &key)?;
//! let entry = open(&sealed.bytes)?;
//! verify(&entry, key.public())?;
//! assert_eq!(entry.body, b"\x65hello");
//! # Ok::<(), record::Error>(())
//! ```

pub mod cbor;
mod chain;
mod entry;
mod envelope;
mod error;
mod export;
mod header;
mod ids;
mod key;
mod limits;
mod proof;
mod seal;
mod signed;

pub use chain::{Gap, check_chain, follows};
pub use entry::{Entry, open, verify, verify_with};
pub use error::{Error, Part};
pub use export::{Export, read_export, write_export};
pub use header::{Boot, BootMark, Claimed, FORMAT, Header, Link};
pub use ids::{BodyHash, EntryId, Kind, LogId, PayloadHash, Seq};
pub use key::{PublicKey, SecretKey, Signature, Signer};
pub use limits::{MAX_BODY, MAX_HEADER, MAX_SIGNED};
pub use proof::{Proof, Strict};
pub use seal::{NewEntry, Sealed, seal};
pub use signed::{Signed, open_signed, sign_bytes};
