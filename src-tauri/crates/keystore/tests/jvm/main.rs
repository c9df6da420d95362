//! The key store that is reached through Java, in a real Java machine.
//!
//! `tests/run jvm` compiles the stand-in of the platform's key store (`tests/java`) and names its folder in
//! `HEADMARK_STAND_IN`. The calls are those that a phone makes, through the machine's own `java.security` and
//! `javax.crypto`; only the provider's name is another. What this cannot show: that a phone's key store does as its
//! reference says.

#![allow(
    clippy::unwrap_used,
    clippy::panic,
    clippy::indexing_slicing,
    reason = "a panic here is the message"
)]

mod bridge;
mod machine;
mod on_a_phone;
mod sealing;
