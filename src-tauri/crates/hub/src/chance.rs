//! Chance from the operating system, in one place.

use crate::Error;

/// Returns random bytes.
///
/// # Errors
///
/// [`Error::NoChance`] when the system gives none.
pub fn bytes<const N: usize>() -> Result<[u8; N], Error> {
    let mut bytes = [0; N];
    getrandom::fill(&mut bytes).map_err(|_| Error::NoChance)?;
    Ok(bytes)
}
