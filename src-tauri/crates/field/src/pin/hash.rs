//! The hash of a PIN.

use argon2::password_hash::{PasswordHash, PasswordHasher, PasswordVerifier, SaltString};
use argon2::{Algorithm, Argon2, Params, Version};

use super::rule::Pin;
use crate::Error;

/// Memory in KiB, passes and lanes of Argon2id: 19 MiB, two, one. The least that OWASP's Password Storage Cheat Sheet
/// gives for Argon2id (<https://cheatsheetseries.owasp.org/cheatsheets/Password_Storage_Cheat_Sheet.html>, read in
/// November 2026). It was measured to take some 25 ms of a desktop's processor, so that a phone has time to spare within a
/// second.
const COST: (u32, u32, u32) = (19 * 1024, 2, 1);

/// Returns the hash of a PIN with a salt, as text that names its own parameters.
///
/// # Errors
///
/// [`Error::PinFailed`].
pub(super) fn hashed(pin: &Pin, salt: [u8; 16]) -> Result<String, Error> {
    let (memory, passes, lanes) = COST;
    let params = Params::new(memory, passes, lanes, None).map_err(failed)?;
    let argon2 = Argon2::new(Algorithm::Argon2id, Version::V0x13, params);
    let salt = SaltString::encode_b64(&salt).map_err(failed)?;
    Ok(argon2.hash_password(pin.digits(), &salt).map_err(failed)?.to_string())
}

/// Returns whether this is the PIN of a hash, by the parameters that the hash names.
///
/// # Errors
///
/// [`Error::PinFailed`] for a hash that cannot be read.
pub(super) fn is_of(pin: &Pin, hash: &str) -> Result<bool, Error> {
    use argon2::password_hash::Error as Refused;
    let kept = PasswordHash::new(hash).map_err(failed)?;
    match Argon2::default().verify_password(pin.digits(), &kept) {
        Ok(()) => Ok(true),
        Err(Refused::Password) => Ok(false),
        Err(error) => Err(failed(error)),
    }
}

fn failed(error: impl std::fmt::Display) -> Error {
    Error::PinFailed { what: error.to_string() }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pin(digits: &str) -> Pin {
        Pin::typed(digits).unwrap()
    }

    #[test]
    fn a_pin_is_known_by_a_hash_that_does_not_hold_it() {
        let kept = hashed(&pin("481516"), [7; 16]).unwrap();
        assert!(kept.starts_with("$argon2id$v=19$m=19456,t=2,p=1$") && !kept.contains("481516"), "{kept}");
        assert!(is_of(&pin("481516"), &kept).unwrap());
        assert!(!is_of(&pin("481517"), &kept).unwrap());
        assert!(!is_of(&pin("48151"), &kept).unwrap());
        assert_ne!(hashed(&pin("481516"), [8; 16]).unwrap(), kept, "another salt, another hash");
    }

    #[test]
    fn a_hash_that_is_none_is_said() {
        for kept in ["", "481516"] {
            assert!(matches!(is_of(&pin("481516"), kept), Err(Error::PinFailed { .. })), "{kept}");
        }
    }
}
