//! Passwords: kept as Argon2id hashes, compared off the threads that answer requests.

use argon2::password_hash::{PasswordHash, PasswordHasher, PasswordVerifier, SaltString};
use argon2::{Algorithm, Argon2, Params, Version};
use zeroize::Zeroizing;

use crate::{Error, chance};

/// The fewest characters of a new password.
const FEWEST: usize = 12;
/// The most: what is longer is no password and only costs time.
const MOST: usize = 256;
/// Memory in KiB and passes: 19 MiB and two, so that many sign-ins at once do not exhaust a small machine.
const COST: (u32, u32) = (19 * 1024, 2);

/// A password as it was typed, wiped when it is dropped.
pub struct Password(Zeroizing<String>);

// By hand, so that no message can ever hold it.
impl std::fmt::Debug for Password {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        out.write_str("Password")
    }
}

impl Password {
    /// Takes a password as it was typed.
    #[must_use]
    pub fn typed(text: String) -> Password {
        Password(Zeroizing::new(text))
    }

    /// Takes a new password.
    ///
    /// # Errors
    ///
    /// [`Error::WeakPassphrase`] for one that is too short or too long.
    pub fn new(text: &str) -> Result<Password, Error> {
        let password = Password::typed(text.trim_end_matches(['\r', '\n']).to_owned());
        match password.0.chars().count() {
            0..FEWEST => Err(Error::WeakPassphrase(
                "The password is too short. Choose at least 12 characters, such as three words.",
            )),
            FEWEST..=MOST => Ok(password),
            _ => Err(Error::WeakPassphrase(
                "The password is longer than 256 characters. Choose a shorter one.",
            )),
        }
    }
}

fn argon2() -> Result<Argon2<'static>, Error> {
    let (memory, passes) = COST;
    let params = Params::new(memory, passes, 1, None).map_err(|error| Error::Asked(error.to_string()))?;
    Ok(Argon2::new(Algorithm::Argon2id, Version::V0x13, params))
}

/// Returns the hash to be kept, as text that names its own parameters.
///
/// # Errors
///
/// When there is no chance for the salt.
pub async fn hash_password(password: Password) -> Result<String, Error> {
    let salt = SaltString::encode_b64(&chance::bytes::<16>()?).map_err(|_| Error::NoChance)?;
    let hashing = move || {
        let hash = argon2()?.hash_password(password.0.as_bytes(), &salt);
        hash.map(|hash| hash.to_string()).map_err(|error| Error::Asked(error.to_string()))
    };
    tokio::task::spawn_blocking(hashing).await.map_err(|_| Error::Interrupted)?
}

/// Returns whether this is the password of a kept hash. Where there is no such person, as much time passes, so that
/// nobody learns names by trying.
///
/// # Errors
///
/// When a thread was lost.
pub async fn is_password(password: Password, kept: Option<String>) -> Result<bool, Error> {
    let compare = move || {
        if password.0.chars().count() > MOST {
            return false;
        }
        let nobody = kept.as_ref().is_none_or(String::is_empty);
        let kept = kept.filter(|kept| !kept.is_empty()).unwrap_or_else(|| NOBODY.to_owned());
        let Ok(parsed) = PasswordHash::new(&kept) else { return false };
        let holds =
            argon2().is_ok_and(|argon2| argon2.verify_password(password.0.as_bytes(), &parsed).is_ok());
        holds && !nobody
    };
    tokio::task::spawn_blocking(compare).await.map_err(|_| Error::Interrupted)
}

/// The hash of nobody's password, by the same parameters.
const NOBODY: &str =
    "$argon2id$v=19$m=19456,t=2,p=1$bm9ib2R5J3Mgc2FsdCEh$AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA";

#[cfg(test)]
mod tests {
    use super::*;

    fn typed(text: &str) -> Password {
        Password::typed(text.into())
    }

    #[tokio::test]
    async fn a_password_is_known_by_its_hash_only() {
        let kept = hash_password(typed("three dry words")).await.unwrap();
        assert!(kept.starts_with("$argon2id$v=19$m=19456,t=2,p=1$") && !kept.contains("dry"));
        assert!(is_password(typed("three dry words"), Some(kept.clone())).await.unwrap());
        assert!(!is_password(typed("three dry word"), Some(kept)).await.unwrap());
    }

    #[tokio::test]
    async fn nobody_signs_in_without_a_password_of_their_own() {
        assert!(PasswordHash::new(NOBODY).is_ok(), "else no time would pass");
        for kept in [None, Some(String::new()), Some("no hash".to_owned())] {
            assert!(!is_password(typed(""), kept.clone()).await.unwrap());
            assert!(!is_password(typed("three dry words"), kept).await.unwrap());
        }
    }

    #[test]
    fn a_short_password_is_refused() {
        assert!(matches!(Password::new("elevenchars"), Err(Error::WeakPassphrase(_))));
        assert!(Password::new("twelve chars").is_ok());
    }
}
