//! The register of instruments, from a file.
//!
//! `REGISTER.md` beside this crate describes the file for those who write one.

mod file;
mod load;
mod sensor_ranges;
