//! Enrolling a phone: a code that is shown once, six digits that both sides show, and a certificate.
//!
//! The code is scanned off the hub's screen and good for ten minutes and one use. Whoever stole it first shows other
//! digits than the phone in the supervisor's hand, and is not confirmed.

mod certify;
mod code;
mod picture;

pub use ::exchange::enrol::{Invitation, six_digits};
pub use certify::{Confirming, confirm, status};
pub use code::{CODE_SECONDS, Offer, ask, offer};
pub use picture::Picture;
