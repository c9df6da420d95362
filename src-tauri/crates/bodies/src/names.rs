//! Names of things that more than one kind of body speaks of, each a type of its own.

use std::fmt;

/// Writes the first eight bytes: enough to tell things apart in a message.
fn short(bytes: &[u8], out: &mut fmt::Formatter<'_>) -> fmt::Result {
    bytes.iter().take(8).try_for_each(|byte| write!(out, "{byte:02x}"))
}

macro_rules! names {
    ($($(#[$doc:meta])* $name:ident = $length:literal;)*) => {$(
        $(#[$doc])*
        #[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $name(pub [u8; $length]);

        impl fmt::Debug for $name {
            fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
                short(&self.0, out)
            }
        }

        impl fmt::Display for $name {
            fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
                short(&self.0, out)
            }
        }
    )*};
}

names! {
    /// BLAKE3 of a photo's file: its name wherever it is kept.
    PhotoHash = 32;
    /// SHA-256 of a file that came in from outside: its name wherever somebody kept it.
    FileHash = 32;
    /// SHA-256 of a SubjectPublicKeyInfo (RFC 5280): what a server on the network shows its key by.
    SpkiHash = 32;
    /// One life of a hub's storage: random, new at its first start and at every restore.
    Epoch = 16;
}
