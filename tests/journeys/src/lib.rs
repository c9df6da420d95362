//! Drives the built app as a person would: through its window, by what stands on the screen.
//!
//! [`App`] is the app on one [`kit::Phone`], opened, closed, restarted or killed. [`Screen`] is what is on its
//! screen: press, type on the pad, send a file, read, take a picture. [`Hub`] is the utility's hub beside it. [`journey()`] runs one journey and, when it
//! fails, leaves a picture and the page's text in `tests/out/journeys`.
//!
//! The app must have been built with its pages inside (`tests/run app` does), and a display must be there
//! (`xvfb-run` gives one).

mod app;
mod driver;
mod hub;
mod journey;
mod keys;
mod place;
mod screen;
mod technician;

pub use app::App;
pub use hub::Hub;
pub use journey::{journey, prepared};
pub use place::app;
pub use screen::Screen;
