//! Writes the TypeScript types of everything that crosses the command border, from the Rust types
//! themselves, so that a page can never disagree with the core about a shape.
//!
//! `cargo run -p bindings` writes them into `ui/src/api/types`; a test writes them into a temporary folder
//! and compares both ways. The folder holds nothing else.

mod files;
mod folder;

pub use files::files;
pub use folder::{differences, write};
