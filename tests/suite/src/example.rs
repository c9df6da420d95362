//! The key that signed the example bytes of `wire/`.

use record::SecretKey;

/// Returns the secret key of the examples, the bytes from 1 to 32. It is public and good for nothing else.
#[must_use]
pub fn key() -> SecretKey {
    let mut bytes = [0; 32];
    for (byte, number) in bytes.iter_mut().zip(1..) {
        *byte = number;
    }
    SecretKey::take(&mut bytes)
}
