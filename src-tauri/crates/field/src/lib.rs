//! The phone's use cases.

pub mod view;
