//! How many there are, in words.

use std::fmt::Display;

/// Says how many there are of something whose plural takes an `s`: "1 photo", "3 photos".
pub(crate) fn counted<N: Copy + PartialEq + From<u8> + Display>(many: N, noun: &str) -> String {
    if many == N::from(1) { format!("1 {noun}") } else { format!("{many} {noun}s") }
}
