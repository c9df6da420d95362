//! Tag codes: reading one from a picture, drawing one as a label.
//!
//! Pure: bytes and pixels in, texts out; no file, clock or random source. What may take long asks a `keep_going`
//! callback between attempts and within long ones; the attempts are a fixed list, so that every machine reads the same.
//! A code's text is data: nothing here, and nothing that uses it, ever opens what a code says.

mod attempts;
mod decoders;
mod draw;
mod filter;
mod fit;
mod gray;
mod letters;
mod link;
mod live;
mod means;
mod patience;
pub mod photo;
mod read;
mod safe;
mod shape;
pub mod sheet;
mod squares;
mod text;

pub use attempts::Effort;
pub use draw::{Code, DrawError, Strength};
pub use gray::Gray;
pub use link::link;
pub use live::FRAME_SIDE;
pub use read::{Found, Reading, read};
pub use safe::safe_text;
pub use shape::Point;
