//! A page of the register feed: what changed in an area between two versions, signed by the hub.
//!
//! The register has one writer, so a page is not merged but applied, and only where `from` is what the phone stands at.
//! An area that a phone does not have yet begins with a page that says it is a snapshot: what stood there before goes. A
//! snapshot that ends at version 0 ends the area on that phone.
//!
//! What belongs to the register as a whole travels in areas of its own, [`SENSORS`] and [`PEOPLE`], whose pages have no rows.

use bodies::{Epoch, PersonId};
use minicbor::bytes::ByteVec;
use minicbor::{Decode, Encode};
use record::{LogId, Proof, PublicKey, Signer};

use crate::Error;
use crate::message;

/// The area of the table of sensors that could be fitted. It goes to every phone; no utility's area is called so, since
/// names of areas have no control characters.
pub const SENSORS: &str = "\u{1}sensors";

/// The area of the names of people. It goes to every phone, whole each time: a name that is not in it was erased.
pub const PEOPLE: &str = "\u{1}people";

/// Who is behind a number in records.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// The number.
    pub person: PersonId,
    /// The name.
    pub name: String,
}

/// Bound into a page's signature, so that it never holds for anything else.
const AAD: &[u8] = b"headmark/page/1";

/// A row that is new or has changed.
#[derive(Debug, Clone, PartialEq, Eq, Encode, Decode)]
pub struct Upsert {
    /// The instrument's tag.
    #[n(0)]
    pub tag: String,
    /// The row, as `bodies::RegisterRow` writes it.
    #[n(1)]
    pub row: ByteVec,
}

/// A page.
#[derive(Debug, Clone, PartialEq, Eq, Encode, Decode)]
#[cbor(map)]
pub struct Page {
    /// The hub's epoch; versions of different epochs do not compare.
    #[cbor(n(1), with = "crate::wire::epoch")]
    pub epoch: Epoch,
    /// The area.
    #[n(2)]
    pub area: String,
    /// The version that it starts from.
    #[n(3)]
    pub from: u64,
    /// The version that stands after it.
    #[n(4)]
    pub to: u64,
    /// Whether what stood in the area before goes.
    #[n(5)]
    pub snapshot: bool,
    /// Rows that are new or have changed.
    #[n(6)]
    pub upserts: Vec<Upsert>,
    /// Tags that left the area.
    #[n(7)]
    pub removals: Vec<String>,
    /// In a page of [`SENSORS`] the whole table, as `bodies::SensorTable` writes it.
    #[n(8)]
    pub sensors: Option<ByteVec>,
    /// In a page of [`PEOPLE`] all names that the hub knows.
    #[n(9)]
    pub people: Option<Vec<Named>>,
}

/// A page whose signature holds, and who signed it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SignedPage {
    /// The log of the key that signed it: a hub's, if [`crate::trust::Trust`] says so.
    pub hub: LogId,
    /// The page.
    pub page: Page,
}

impl Page {
    /// Signs the page.
    ///
    /// # Errors
    ///
    /// [`Error::Record`] when the key cannot be used now.
    pub fn sign(&self, signer: &impl Signer) -> Result<Vec<u8>, Error> {
        Ok(record::sign_bytes(AAD, &message::write(self)?, signer)?)
    }

    /// Returns whose log's key is said to have signed a page.
    ///
    /// # Errors
    ///
    /// [`Error::Record`] for what is no signed page.
    pub fn signer_of(bytes: &[u8]) -> Result<LogId, Error> {
        Ok(record::open_signed(AAD, bytes)?.log)
    }

    /// Opens a signed page and verifies it.
    ///
    /// # Errors
    ///
    /// [`Error::Record`] where the signature does not hold, [`Error::Malformed`] for what is no page.
    pub fn open(bytes: &[u8], key: &PublicKey, proof: &(impl Proof + ?Sized)) -> Result<SignedPage, Error> {
        let signed = record::open_signed(AAD, bytes)?;
        signed.verify_with(key, proof)?;
        let page: Page = message::read(signed.payload)?;
        if page.to < page.from || (page.snapshot && page.from != 0) {
            return Err(Error::Malformed("a page of the register that goes backwards".into()));
        }
        Ok(SignedPage { hub: signed.log, page })
    }
}
