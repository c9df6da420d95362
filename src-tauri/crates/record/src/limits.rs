//! How large an entry may be. Frozen with the format: a reader refuses more, so a writer may not make more.

/// The longest header (`sign1`), in bytes.
pub const MAX_HEADER: usize = 1024;

/// The longest body, in bytes.
pub const MAX_BODY: usize = 256 * 1024;

/// The longest payload signed outside a chain, in bytes.
pub const MAX_SIGNED: usize = 4 * 1024 * 1024;
