//! The form of a sealed key: a version byte, the nonce, what was enciphered.
//!
//! Frozen. Phones hold files of this form, and nothing else opens their logs. Version 1 is 61 bytes: `01`, the nonce of
//! 12 bytes, the 32 bytes of an Ed25519 secret key enciphered with AES-256-GCM, the tag of 16 bytes. The associated data
//! are the letters `headmark/sealed-key/1` and the 16 bytes of the install marker.

use field::KeysError;

use crate::Ciphered;
use crate::marker::Marker;
use crate::sealing::NONCE;

const VERSION: u8 = 1;
const BOUND: &[u8] = b"headmark/sealed-key/1";
/// A secret key and the tag.
const TEXT: usize = 32 + 16;

/// Returns what a key is bound to on an install.
pub(crate) fn bound_to(marker: &Marker) -> Vec<u8> {
    [BOUND, marker.bytes()].concat()
}

/// Writes a sealed key.
pub(crate) fn write(ciphered: &Ciphered) -> Vec<u8> {
    [&[VERSION], ciphered.nonce.as_slice(), &ciphered.text].concat()
}

/// Reads one. What is not whole is lost; what a later version wrote may be opened by that version, and is not.
pub(crate) fn read(bytes: &[u8]) -> Result<Ciphered, KeysError> {
    let (version, rest) = bytes.split_first().ok_or(KeysError::Lost)?;
    if *version != VERSION {
        return Err(KeysError::Refused {
            what: format!("a key sealed in form {version}, which is not known here"),
        });
    }
    let (nonce, text) = rest.split_first_chunk::<NONCE>().ok_or(KeysError::Lost)?;
    if text.len() != TEXT {
        return Err(KeysError::Lost);
    }
    Ok(Ciphered { nonce: *nonce, text: text.to_owned() })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ciphered() -> Ciphered {
        Ciphered { nonce: [3; NONCE], text: (0..48).collect() }
    }

    #[test]
    fn what_is_written_is_read() {
        let bytes = write(&ciphered());
        assert_eq!((bytes.len(), bytes[0]), (61, 1));
        assert_eq!(read(&bytes), Ok(ciphered()));
    }

    #[test]
    fn what_is_cut_or_grown_is_lost() {
        let bytes = write(&ciphered());
        for length in 0..bytes.len() {
            assert_eq!(read(&bytes[..length]), Err(KeysError::Lost), "{length}");
        }
        assert_eq!(read(&[&bytes[..], &[0]].concat()), Err(KeysError::Lost));
    }

    #[test]
    fn what_a_later_version_sealed_is_not_given_up() {
        let mut bytes = write(&ciphered());
        bytes[0] = 2;
        let Err(KeysError::Refused { what }) = read(&bytes) else { panic!("it was taken or given up") };
        assert_eq!(what, "a key sealed in form 2, which is not known here");
    }

    #[test]
    fn it_is_bound_to_the_install() {
        let bound = bound_to(&Marker::of([9; 16]));
        assert_eq!(bound, [&b"headmark/sealed-key/1"[..], &[9; 16]].concat());
    }
}
