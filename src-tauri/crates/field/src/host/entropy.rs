//! Chance from the operating system.

use crate::{Entropy, NoEntropy};

/// The operating system's source of random numbers.
#[derive(Debug, Clone, Copy, Default)]
pub struct HostEntropy;

impl Entropy for HostEntropy {
    fn fill(&self, bytes: &mut [u8]) -> Result<(), NoEntropy> {
        getrandom::fill(bytes).map_err(|_| NoEntropy)
    }
}
