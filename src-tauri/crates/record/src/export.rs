//! The exported file (`<tag>-<date>.headmark`): a CBOR sequence (RFC 8742) of the signer's COSE_Key and entries.

use crate::{Entry, Error, Gap, Part, PublicKey, cbor, check_chain, open, verify};

/// An exported file, read and verified.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Export<'b> {
    /// The key that signed all of it.
    pub key: PublicKey,
    /// The entries, lowest place first.
    pub entries: Vec<Entry<'b>>,
    /// Places of the log that are not in the file.
    pub gaps: Vec<Gap>,
}

/// Writes an export: the key, then each entry's bytes exactly as they are kept.
///
/// # Errors
///
/// What [`read_export`] would refuse is not written: entries of another log, not in order, not verifying, or none.
pub fn write_export<'b>(
    key: &PublicKey,
    entries: impl IntoIterator<Item = &'b [u8]>,
) -> Result<Vec<u8>, Error> {
    let mut file = key.cose().to_vec();
    entries.into_iter().for_each(|entry| file.extend_from_slice(entry));
    read_export(&file)?;
    Ok(file)
}

/// Reads an export and verifies all of it: form, body hashes, signatures, chain.
///
/// # Errors
///
/// The first thing that is wrong. Nothing is returned of a file that is wrong anywhere.
pub fn read_export(file: &[u8]) -> Result<Export<'_>, Error> {
    let (key, mut rest) = next(file)?;
    let key = PublicKey::from_cose(key)?;
    let mut entries = Vec::new();
    while !rest.is_empty() {
        let (item, behind) = next(rest)?;
        let entry = open(item)?;
        verify(&entry, &key)?;
        entries.push(entry);
        rest = behind;
    }
    if entries.is_empty() {
        return Err(Error::Malformed { part: Part::Export, what: "there is no record in it" });
    }
    let gaps = check_chain(&entries)?;
    Ok(Export { key, entries, gaps })
}

fn next(bytes: &[u8]) -> Result<(&[u8], &[u8]), Error> {
    cbor::first(bytes).map_err(|fault| Error::Cbor { part: Part::Export, at: fault.at, flaw: fault.flaw })
}
